import { execFile } from 'node:child_process';
import { constants } from 'node:fs';
import { open, readFile, readlink } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { isRunning } from './cluster-folder.js';
import { codeOf } from './embedded-postgres-error.js';

/** What a postmaster writes about itself in its cluster folder. */
export interface PostmasterFile {
  readonly pid: number;
  /** Zero until the server has chosen its port. */
  readonly port: number;
  /** `starting`, `ready`, `stopping`, ..., or empty until it is written. */
  readonly status: string;
}

const fileName = 'postmaster.pid';

/**
 * Reads the text of `postmaster.pid`: one value a line, in the order of PostgreSQL's `src/include/utils/pidfile.h`
 * (1 process id, 2 data folder, 3 start time, 4 port, 5 socket folder, 6 address, 7 shared memory, 8 status).
 */
export function parsePostmasterFile(text: string): PostmasterFile | undefined {
  const lines = text.split('\n');
  const pid = Number.parseInt(lines[0] ?? '', 10);
  if (!Number.isSafeInteger(pid) || pid <= 0) return undefined;
  return { pid, port: Number.parseInt(lines[3] ?? '0', 10) || 0, status: (lines[7] ?? '').trim() };
}

/** The postmaster file of a cluster, or undefined when there is none. */
export async function readPostmasterFile(clusterFolder: string): Promise<PostmasterFile | undefined> {
  try {
    return parsePostmasterFile(await readFile(join(clusterFolder, fileName), 'utf8'));
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

/** The running postmaster of a cluster, or undefined; a file left by a dead one, or whose id was reused, is no proof. */
export async function findPostmaster(clusterFolder: string): Promise<PostmasterFile | undefined> {
  const file = await readPostmasterFile(clusterFolder);
  return file !== undefined && (await isPostmaster(file.pid, clusterFolder)) ? file : undefined;
}

/** Whether the process of that id is a postmaster working on that cluster folder. */
export async function isPostmaster(pid: number, clusterFolder: string): Promise<boolean> {
  if (!isRunning(pid)) return false;
  if (process.platform === 'linux') return await isLinuxPostmaster(pid, clusterFolder);
  const [command, args] =
    process.platform === 'win32'
      ? (['tasklist', ['/NH', '/FO', 'CSV', '/FI', `PID eq ${pid}`]] as const)
      : (['ps', ['-o', 'args=', '-p', String(pid)]] as const);
  const listing = await promisify(execFile)(command, args).then(
    ({ stdout }) => stdout,
    () => '',
  );
  // Windows lists no arguments; there, a process called postgres is as much as can be told.
  return process.platform === 'win32' ? listing.includes('postgres') : isPostmasterCommand(listing, clusterFolder);
}

/** A process that ended but was not waited for has an empty command line, so it does not count as running. */
async function isLinuxPostmaster(pid: number, clusterFolder: string): Promise<boolean> {
  const commandLine = await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '');
  if (isPostmasterCommand(commandLine.replaceAll('\0', ' '), clusterFolder)) return true;
  // Started by hand with the folder written in another way: a postmaster works inside its cluster folder.
  const workingFolder = await readlink(`/proc/${pid}/cwd`).catch(() => '');
  return workingFolder === clusterFolder && /^\S*postgres(?:\s|$)/u.test(commandLine.replaceAll('\0', ' '));
}

function isPostmasterCommand(commandLine: string, clusterFolder: string): boolean {
  return commandLine.includes('postgres') && commandLine.includes(` -D ${clusterFolder} `);
}

/**
 * Makes a postmaster file whose process id now belongs to something else harmless. PostgreSQL takes the id of its own
 * parent for a sign of a stale file, and then still checks through the file's other lines that no server process of
 * the dead postmaster is left, which it could not if the file were deleted. Written through the handle it was read
 * from: if another start replaces the file meanwhile, the new one is untouched.
 */
export async function disarmStaleFile(clusterFolder: string): Promise<void> {
  // On Windows PostgreSQL itself tells a postmaster from another process.
  if (process.platform === 'win32') return;
  const handle = await open(join(clusterFolder, fileName), constants.O_RDWR | constants.O_NOFOLLOW).catch((error: unknown) => {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  });
  if (handle === undefined) return;
  try {
    const text = await handle.readFile('utf8');
    const pid = parsePostmasterFile(text)?.pid;
    if (pid === undefined || !isRunning(pid) || (await isPostmaster(pid, clusterFolder))) return;
    const disarmed = Buffer.from(text.replace(/^\d+/u, String(process.pid)));
    await handle.write(disarmed, 0, disarmed.length, 0);
    await handle.truncate(disarmed.length);
  } finally {
    await handle.close();
  }
}
