import type { ByteReader, ByteWriter } from './bytes.js';
import { STATUS_NAMES } from './sample.js';

/*
 * Statuses: run lengths (one run in a block without events), or three bits each where they change all the time.
 */

const RUNS = 0;
const BITS = 1;
const WIDTH = 3;

/** Most bytes that `count` statuses can take. */
export const statusBound = (count: number): number => 1 + bitBytes(count);

const bitBytes = (count: number): number => Math.ceil((count * WIDTH) / 8);

export function writeStatuses(writer: ByteWriter, statuses: Uint8Array): void {
  const runs = runsOf(statuses);
  const runBytes = runs.reduce((sum, { length }) => sum + countBytes(length * 8), 0);
  if (runBytes <= bitBytes(statuses.length)) {
    writer.byte(RUNS);
    for (const { status, length } of runs) writer.count(length * 8 + status);
  } else {
    writer.byte(BITS);
    writer.bits(Uint32Array.from(statuses), statuses.length, WIDTH);
  }
}

/** @throws BlockError 'contradictory' when the bytes are not so many statuses */
export function readStatuses(reader: ByteReader, statuses: Uint8Array): void {
  const count = statuses.length;
  const way = reader.byte();
  reader.demand(way <= BITS, `there is no way ${way} of keeping statuses`);
  if (way === BITS) {
    const bits = new Uint32Array(count);
    reader.bits(bits, count, WIDTH);
    statuses.set(bits);
    reader.demand(statuses.every((status) => status < STATUS_NAMES.length), 'a status is unknown');
    return;
  }
  for (let at = 0; at < count;) {
    const run = reader.count();
    const [length, status] = [Math.floor(run / 8), run % 8];
    reader.demand(length > 0 && at + length <= count && status < STATUS_NAMES.length, `a run of ${length} statuses ${status} at ${at} of ${count}`);
    statuses.fill(status, at, at + length);
    at += length;
  }
}

function runsOf(statuses: Uint8Array): { status: number; length: number }[] {
  const runs: { status: number; length: number }[] = [];
  let from = 0;
  for (let index = 1; index <= statuses.length; index += 1) {
    if (index < statuses.length && statuses[index] === statuses[from]) continue;
    runs.push({ status: statuses[from] as number, length: index - from });
    from = index;
  }
  return runs;
}

const countBytes = (value: number): number => (value < 128 ? 1 : value < 16_384 ? 2 : 3);
