import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { StartFailure } from './start-failure.js';

/** A password from the terminal, typed twice and not shown, or the first line of a pipe. Throws StartFailure. */
export async function readPassword(prompt: string, again: string): Promise<string> {
  if (!process.stdin.isTTY) return firstLine();
  const typed = await hiddenLine(prompt);
  if ((await hiddenLine(again)) !== typed) throw new StartFailure('The two passwords differ.');
  return typed;
}

async function firstLine(): Promise<string> {
  const lines = createInterface({ input: process.stdin });
  try {
    for await (const line of lines) return line;
  } finally {
    // A pipe that its writer leaves open would keep the program from ending.
    process.stdin.destroy();
  }
  throw new StartFailure('No password came through the pipe.');
}

/** Readline echoes to its output what is typed, so the output swallows everything. */
async function hiddenLine(prompt: string): Promise<string> {
  process.stderr.write(prompt);
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => { done(); } });
  const line = createInterface({ input: process.stdin, output: nowhere, terminal: true });
  try {
    return await new Promise<string>((resolve, reject) => {
      line.once('line', resolve);
      line.once('SIGINT', () => { reject(new StartFailure('Nothing was done.')); });
      line.once('close', () => { reject(new StartFailure('No password was typed.')); });
    });
  } finally {
    line.close();
    process.stderr.write('\n');
  }
}
