import type { ByteReader, ByteWriter } from './bytes.js';
import { packedBound, packIntegers, unpackIntegers } from './packed-integers.js';
import { MAX_POSITION } from './sample.js';

/*
 * Positions: evenly spaced ones are a start and a step; others are a start, a usual step and what each step differs from it;
 * where that takes more than 32 bits, eight bytes each.
 */

const EVEN = 0;
const STEPS = 1;
const PLAIN = 2;
const INT32 = 2 ** 31;

/** Most bytes that `count` positions can take: the way, and the dearest of the three. */
export const positionBound = (count: number): number => 1 + Math.max(18, 8 * count, 18 + packedBound(count));

export function writePositions(writer: ByteWriter, positions: Float64Array): void {
  const first = positions[0] as number;
  const step = positions.length > 1 ? (positions[1] as number) - first : 0;
  let [least, most] = [0, 0];
  for (let index = 1; index < positions.length; index += 1) {
    const change = (positions[index] as number) - (positions[index - 1] as number) - step;
    if (change < least) least = change;
    if (change > most) most = change;
  }
  const [isEven, fits] = [least === 0 && most === 0, Math.abs(step) <= MAX_POSITION && least >= -INT32 && most < INT32];
  writer.byte(!fits ? PLAIN : isEven ? EVEN : STEPS);
  if (!fits) {
    for (const position of positions) writer.f64(position);
    return;
  }
  writer.signed(first);
  writer.signed(step);
  if (!isEven) packIntegers(writer, changesOf(positions, step));
}

/** What each step differs from the usual one. */
const changesOf = (positions: Float64Array, step: number): Int32Array =>
  Int32Array.from({ length: positions.length - 1 }, (_, index) => (positions[index + 1] as number) - (positions[index] as number) - step);

/** @throws BlockError 'contradictory' when the bytes are not so many positions */
export function readPositions(reader: ByteReader, positions: Float64Array): void {
  const count = positions.length;
  const way = reader.byte();
  reader.demand(way <= PLAIN, `there is no way ${way} of keeping positions`);
  if (way === PLAIN) {
    for (let index = 0; index < count; index += 1) positions[index] = reader.f64();
    return;
  }
  let position = reader.signed();
  const step = reader.signed();
  if (way === EVEN) {
    for (let index = 0; index < count; index += 1, position += step) positions[index] = position;
    return;
  }
  const changes = unpackIntegers(reader, count - 1);
  positions[0] = position;
  for (let index = 1; index < count; index += 1) {
    position += step + (changes[index - 1] as number);
    positions[index] = position;
  }
}
