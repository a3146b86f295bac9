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

/** Consecutive samples of one status. */
export interface Run {
  readonly status: number;
  readonly length: number;
}

/** `runs`: those of the statuses. */
export function writeStatuses(writer: ByteWriter, statuses: Uint8Array, runs: readonly Run[]): void {
  const runBytes = runs.reduce((sum, { length }) => sum + countBytes(length * 8), 0);
  if (runBytes <= bitBytes(statuses.length)) {
    writer.byte(RUNS);
    for (const { status, length } of runs) writer.count(length * 8 + status);
  } else {
    writer.byte(BITS);
    writer.bits(Int32Array.from(statuses), statuses.length, WIDTH);
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

/** Throws RangeError naming the first status that is none. */
export function runsOf(statuses: Uint8Array): Run[] {
  if (isOfZeros(statuses)) return [{ status: 0, length: statuses.length }];
  const runs: Run[] = [];
  for (let from = 0; from < statuses.length;) {
    const status = statuses[from] as number;
    if (status >= STATUS_NAMES.length) throw new RangeError(`status ${from} is unknown: ${status}`);
    let to = from + 1;
    while (to + 3 < statuses.length && statuses[to] === status && statuses[to + 1] === status && statuses[to + 2] === status && statuses[to + 3] === status) to += 4;
    while (to < statuses.length && statuses[to] === status) to += 1;
    runs.push({ status, length: to - from });
    from = to;
  }
  return runs;
}

/** Four at a time, as nearly all blocks are: by one they cost as much as their values. */
function isOfZeros(statuses: Uint8Array): boolean {
  if (statuses.length % 4 !== 0 || statuses.byteOffset % 4 !== 0) return false;
  const words = new Uint32Array(statuses.buffer, statuses.byteOffset, statuses.length / 4);
  let met = 0;
  for (let index = 0; index < words.length; index += 1) met |= words[index] as number;
  return met === 0 && words.length > 0;
}

const countBytes = (value: number): number => (value < 128 ? 1 : value < 16_384 ? 2 : 3);
