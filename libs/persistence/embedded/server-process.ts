import { execFile, spawn, type ChildProcess } from 'node:child_process';
import { constants } from 'node:fs';
import { open, readFile, rename, stat } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import { giveTo, layoutOf } from './cluster-folder.js';
import { EmbeddedPostgresError, reasonOf, standardErrorOf } from './embedded-postgres-error.js';
import type { Placement } from './placement.js';
import { isPostmaster, readPostmasterFile } from './postmaster-file.js';
import { serverArguments } from './server-settings.js';

/** How a started server came to be: answering, or ended by itself with the last line of its log that says why. */
export type StartOutcome = { kind: 'ready'; pid: number } | { kind: 'ended'; reason: string };

const pollMs = 20;
/** Long enough for the recovery of everything `max_wal_size` lets accumulate on a slow disk. */
const readyLimitMs = 300_000;
const fastLimitMs = 60_000;
const immediateLimitMs = 10_000;
const largestLogBytes = 10_000_000;

/** The variables of this program without those that would steer PostgreSQL or its language. */
function serverEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !/^(?:PG|LC_|LANG)/u.test(name));
  return { ...Object.fromEntries(kept), LC_ALL: 'C' };
}

/** Runs initdb into an existing empty folder. Throws EmbeddedPostgresError with what initdb said last. */
export async function runInitdb(placement: Placement, folder: string, passwordFile: string, durable: boolean): Promise<void> {
  const args = [
    ['-D', folder, '-U', 'everymetre', '--pwfile', passwordFile, '--auth=scram-sha-256', '--data-checksums'],
    ['--encoding=UTF8', '--locale=C', '--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--no-instructions'],
    durable ? [] : ['--no-sync'],
  ].flat();
  const options = { ...placement.account, cwd: placement.dataFolder, env: serverEnvironment(), windowsHide: true };
  try {
    await promisify(execFile)(placement.binaries.initdb, args, options);
  } catch (cause) {
    const line = standardErrorOf(cause).split('\n').filter((text) => /error|fatal|could not/iu.test(text)).at(-1) ?? reasonOf(cause).split('\n')[0] ?? '';
    throw new EmbeddedPostgresError(
      `PostgreSQL could not create its database in ${placement.dataFolder} (${line}): mend that, or set DATABASE_URL to a PostgreSQL server.`,
      { cause },
    );
  }
}

/**
 * Starts a server and waits until it accepts connections or has ended. It runs in a session of its own, so that
 * Ctrl-C in the terminal reaches this program alone, which stops the server after its last request.
 */
export async function startServer(placement: Placement, settings: Readonly<Record<string, string>>): Promise<StartOutcome> {
  const { cluster, log } = layoutOf(placement.dataFolder);
  await setLargeLogAside(log);
  // Not through a link: as root, the folder belongs to a lesser user, who must not choose a file of root's.
  const handle = await open(log, constants.O_WRONLY | constants.O_APPEND | constants.O_CREAT | constants.O_NOFOLLOW, 0o600);
  try {
    await giveTo(placement.account, log);
    const { size } = await handle.stat();
    const child = spawn(placement.binaries.postgres, serverArguments(cluster, settings), {
      ...placement.account,
      cwd: placement.dataFolder,
      env: serverEnvironment(),
      detached: true,
      windowsHide: true,
      stdio: ['ignore', handle.fd, handle.fd],
    });
    child.unref();
    return await waitUntilReady(child, cluster, () => lastWords(log, size));
  } finally {
    await handle.close();
  }
}

async function setLargeLogAside(log: string): Promise<void> {
  const size = await stat(log).then((found) => found.size, () => 0);
  if (size > largestLogBytes) await rename(log, `${log}.1`);
}

async function waitUntilReady(child: ChildProcess, cluster: string, lastLine: () => Promise<string>): Promise<StartOutcome> {
  const failures: Error[] = [];
  child.once('error', (error) => failures.push(error));
  const deadline = Date.now() + readyLimitMs;
  while (Date.now() < deadline) {
    if (failures[0] !== undefined) return { kind: 'ended', reason: failures[0].message };
    if (child.exitCode !== null || child.signalCode !== null) return { kind: 'ended', reason: await lastLine() };
    const file = await readPostmasterFile(cluster);
    if (file !== undefined && file.pid === child.pid && file.status === 'ready') return { kind: 'ready', pid: file.pid };
    await pause(pollMs);
  }
  child.kill('SIGQUIT');
  throw new EmbeddedPostgresError(
    `PostgreSQL did not become ready within ${readyLimitMs / 1000} s (last line of its log: ${await lastLine()}): look into the log beside ${cluster}, then start again.`,
  );
}

async function lastWords(log: string, from: number): Promise<string> {
  const written = (await readFile(log)).subarray(from).toString('utf8');
  const lines = written.split('\n').filter((line) => line.trim() !== '');
  return lines.filter((line) => line.includes('FATAL') || line.includes('PANIC')).at(-1) ?? lines.at(-1) ?? 'no reason was logged';
}

/**
 * Stops a postmaster, whether this program started it or not: fast (transactions rolled back, a checkpoint written);
 * when that takes over a minute, immediate (recovery at the next start); then by force. Nothing committed is lost.
 */
export async function stopServer(placement: Placement, pid: number, log: (line: string) => void): Promise<void> {
  const { cluster } = layoutOf(placement.dataFolder);
  const steps = [
    { mode: 'fast', signal: 'SIGINT', limitMs: fastLimitMs },
    { mode: 'immediate', signal: 'SIGQUIT', limitMs: immediateLimitMs },
    { mode: 'kill', signal: 'SIGKILL', limitMs: immediateLimitMs },
  ] as const;
  for (const { mode, signal, limitMs } of steps) {
    if (!(await isPostmaster(pid, cluster))) return;
    log(`stopping PostgreSQL (${mode})`);
    await signalServer(placement, pid, signal, mode);
    if (await hasEnded(pid, cluster, limitMs)) return;
  }
  throw new EmbeddedPostgresError(`PostgreSQL (process ${pid}) does not stop: end that process by hand.`);
}

async function signalServer(placement: Placement, pid: number, signal: NodeJS.Signals, mode: string): Promise<void> {
  if (process.platform === 'win32' && mode !== 'kill') {
    // Signals do not exist there; pg_ctl speaks to the server in its own way.
    const { cluster } = layoutOf(placement.dataFolder);
    await promisify(execFile)(placement.binaries.pgCtl, ['stop', '-D', cluster, '-m', mode, '--no-wait']).catch(() => undefined);
    return;
  }
  try {
    process.kill(pid, signal);
  } catch (cause) {
    if (!(await isPostmaster(pid, layoutOf(placement.dataFolder).cluster))) return;
    throw new EmbeddedPostgresError(`PostgreSQL (process ${pid}) cannot be stopped by this user: stop it as the user that started it.`, { cause });
  }
}

async function hasEnded(pid: number, cluster: string, limitMs: number): Promise<boolean> {
  const deadline = Date.now() + limitMs;
  while (Date.now() < deadline) {
    if (!(await isPostmaster(pid, cluster))) return true;
    await pause(pollMs);
  }
  return false;
}
