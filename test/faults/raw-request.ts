import { connect } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { BadRequest } from './bad-parts.js';

export interface RawAnswer {
  readonly status: number;
  readonly headers: string;
  /** Null when it is no JSON. */
  readonly body: Record<string, unknown> | null;
}

const PATIENCE_MS = 30_000;

/** Sends a request as it stands, right or wrong, over a connection of its own. Gives the first answer, or null when none came. */
export async function sendRaw(url: string, token: string, { path, headers, pieces, leaves }: Pick<BadRequest, 'path' | 'headers' | 'pieces' | 'leaves'>): Promise<RawAnswer | null> {
  const { hostname, port } = new URL(url);
  const socket = connect(Number(port), hostname);
  let [answer, isClosed] = ['', false];
  const whole = new Promise<void>((resolve) => {
    socket.on('error', () => undefined).on('close', () => { isClosed = true; resolve(); });
    socket.on('data', (bytes: Buffer) => {
      answer += bytes.toString('latin1');
      if (isWhole(answer)) resolve();
    });
    socket.setTimeout(PATIENCE_MS, () => { socket.destroy(); });
  });
  const lines = Object.entries(headers).filter(([, value]) => value !== '').map(([name, value]) => `${name}: ${value}\r\n`);
  socket.write(`PUT ${path} HTTP/1.1\r\nhost: ${hostname}\r\nauthorization: Bearer ${token}\r\n${lines.join('')}\r\n`);
  for (const piece of pieces) {
    if (isClosed || isWhole(answer)) break;
    if (piece === Infinity) await whole;
    else if (typeof piece === 'number') await Promise.race([pause(piece), whole]);
    else if (!socket.write(piece)) await Promise.race([new Promise((resolve) => { socket.once('drain', resolve); }), whole]);
  }
  if (leaves === true) {
    await Promise.race([pause(100), whole]);
    socket.end();
  }
  await whole;
  socket.destroy();
  return parsed(answer);
}

function isWhole(answer: string): boolean {
  const head = answer.indexOf('\r\n\r\n');
  const length = /\r\ncontent-length: (\d+)/i.exec(answer)?.[1];
  return head >= 0 && length !== undefined && answer.length >= head + 4 + Number(length);
}

function parsed(answer: string): RawAnswer | null {
  const status = /^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1];
  if (status === undefined || !isWhole(answer)) return null;
  const head = answer.indexOf('\r\n\r\n');
  const length = Number(/\r\ncontent-length: (\d+)/i.exec(answer)?.[1]);
  const text = Buffer.from(answer.slice(head + 4, head + 4 + length), 'latin1').toString('utf8');
  return { status: Number(status), headers: answer.slice(0, head), body: text.startsWith('{') ? (JSON.parse(text) as Record<string, unknown>) : null };
}
