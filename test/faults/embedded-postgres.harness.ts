import { spawn, type ChildProcess } from 'node:child_process';
import { chmod, mkdtemp, readFile, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { Client } from 'pg';
import { startEmbeddedPostgres, type EmbeddedPostgres, type EmbeddedPostgresOptions } from '../../libs/persistence/embedded/index.js';

/** What a program of embedded-postgres.program.ts reports; `error` is empty when it owns a server. */
export interface ProgramReport extends Omit<EmbeddedPostgres, 'stop'> {
  error: string;
}

/** A user other than root to run a program as. */
export interface OtherUser {
  uid: number;
  gid: number;
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = fileURLToPath(new URL('embedded-postgres.program.ts', import.meta.url));
const started: EmbeddedPostgres[] = [];
const children: ChildProcess[] = [];
const folders: string[] = [];
const dataFolders = new Set<string>();

/** A new folder that every user can enter, deleted by `cleanUp`. */
export async function newFolder(mode = 0o755): Promise<string> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'everymetre-test-')));
  await chmod(folder, mode);
  folders.push(folder);
  return folder;
}

/** Has a path deleted by `cleanUp`. */
export function deleteLater(path: string): void {
  folders.push(path);
}

/** Starts a server in this process, stopped by `cleanUp`. */
export async function start(options: EmbeddedPostgresOptions): Promise<EmbeddedPostgres> {
  const server = await startEmbeddedPostgres(options);
  started.push(server);
  return server;
}

/** Starts a program of its own on a data folder, in its own process group as a terminal does. */
export function startProgram(dataFolder: string, options: { port?: number } = {}, user?: OtherUser): ChildProcess {
  dataFolders.add(dataFolder);
  const args = ['--no-warnings', '--import', './.tools/swc-loader.mjs', program, dataFolder, JSON.stringify(options)];
  const child = spawn(process.execPath, args, { cwd: root, detached: true, stdio: ['ignore', 'pipe', 'inherit'], ...user });
  children.push(child);
  return child;
}

/** The line a program prints once it owns a server or has failed. */
export async function reportOf(child: ChildProcess): Promise<ProgramReport> {
  for await (const line of createInterface({ input: child.stdout! })) return JSON.parse(line) as ProgramReport;
  throw new Error('the program ended without a report');
}

/** Waits for a process of this one to end and gives its exit code, null after a signal. */
export async function endOf(child: ChildProcess): Promise<number | null> {
  while (child.exitCode === null && child.signalCode === null) await pause(10);
  return child.exitCode;
}

/** Kills a program as `kill -9` does. */
export async function killProgram(child: ChildProcess): Promise<void> {
  child.kill('SIGKILL');
  await endOf(child);
}

/** The process id in the first line of a cluster's postmaster.pid. */
export async function postmasterPid(dataFolder: string): Promise<number> {
  return Number.parseInt(await readFile(join(dataFolder, 'cluster', 'postmaster.pid'), 'utf8'), 10);
}

/** Runs one statement on a database and gives its rows. */
export async function query(url: string, sql: string, values: unknown[] = []): Promise<Record<string, unknown>[]> {
  const client = new Client(url);
  await client.connect();
  try {
    return (await client.query<Record<string, unknown>>(sql, values)).rows;
  } finally {
    await client.end();
  }
}

/** Writes a row that every later start must still find. */
export async function keep(url: string, text: string): Promise<void> {
  await query(url, 'CREATE TABLE IF NOT EXISTS kept (text text PRIMARY KEY)');
  await query(url, 'INSERT INTO kept VALUES ($1)', [text]);
}

/** The rows written by `keep`. */
export async function keptRows(url: string): Promise<unknown[]> {
  return (await query(url, 'SELECT text FROM kept ORDER BY text')).map(({ text }) => text);
}

/** Stops every server and program of a test and deletes its folders. */
export async function cleanUp(): Promise<void> {
  for (const child of children.splice(0)) await killProgram(child);
  for (const server of started.splice(0)) await server.stop();
  for (const dataFolder of dataFolders) {
    if ((await postmasterPid(dataFolder).catch(() => 0)) !== 0) await endOrphan(dataFolder);
  }
  dataFolders.clear();
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
}

/** A program killed at the end of a test leaves its server; the ordinary way to stop that is to take it over. */
async function endOrphan(dataFolder: string): Promise<void> {
  const server = await startEmbeddedPostgres({ dataFolder });
  await server.stop();
}
