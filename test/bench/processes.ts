import { spawn, type ChildProcess } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:net';

/** A port that nobody listens on just now. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no port was given');
  return address.port;
}

export interface Running {
  readonly child: ChildProcess;
  readonly url: string;
  /** From the start of the process to its first answer. */
  readonly startMs: number;
  stop(): Promise<void>;
}

const PATIENCE_MS = 90_000;

/** Starts a Node program and waits until `url` answers. */
export async function start(script: string, args: readonly string[], env: NodeJS.ProcessEnv, url: string): Promise<Running> {
  const began = performance.now();
  const child = spawn(process.execPath, [script, ...args], { env: { ...process.env, ...env }, stdio: ['ignore', 'ignore', 'inherit'] });
  const exited = new Promise<void>((resolve) => child.once('exit', () => { resolve(); }));
  while (!(await answers(url))) {
    if (child.exitCode !== null || performance.now() - began > PATIENCE_MS) throw new Error(`${script} did not start`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  const startMs = performance.now() - began;
  return {
    child, url, startMs,
    async stop() {
      child.kill('SIGTERM');
      await exited;
    },
  };
}

async function answers(url: string): Promise<boolean> {
  try {
    return (await fetch(url)).ok;
  } catch {
    return false;
  }
}

/** Memory that a process holds, MB; from the system's own account. */
export function residentMb({ child }: Running): number {
  const status = readFileSync(`/proc/${child.pid ?? 0}/status`, 'utf8');
  return Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1] ?? NaN) / 1024;
}
