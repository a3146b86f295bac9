import { ByteReader, ByteWriter } from './bytes.js';
import { positionBound, readPositions, writePositions } from './position-code.js';
import { bitsOf, BLOCK_SAMPLES, demandLengths, demandPositions, NO_VALUE_BITS, STATUS, type Readings, type Samples } from './sample.js';
import { CHECK_BYTES, HEAD_BYTES, openSeal, seal, writeHead } from './seal.js';
import { readStatuses, runsOf, statusBound, writeStatuses } from './status-code.js';
import { readValues, trialBound, valueBound, writeValues } from './value-code.js';

/*
 * A block as bytes: the head (`seal.ts`; flag 1: missing samples have no value stored), positions, statuses, values, checksum.
 */

const LETTERS = 'SB';
const WITHOUT_MISSING = 1;

/**
 * Most bytes that a block of `count` samples takes, whatever they are: four for each value and three bits for each status,
 * eight for each position, and 37 for the rest. With evenly spaced positions and one status all through it is four for each
 * value and at most 36.
 */
export const blockBound = (count: number): number =>
  HEAD_BYTES + positionBound(count) + statusBound(count) + valueBound(count) + CHECK_BYTES;

/** Blocks are written one at a time: what each would need anew, and the collector take away, is taken once. */
const WRITER = new ByteWriter(blockBound(BLOCK_SAMPLES) + 2 * trialBound(BLOCK_SAMPLES));

/**
 * The samples as bytes from which `decodeBlock` gives them back bit for bit.
 * Throws RangeError naming what is wrong when they cannot make one block (see `Samples`).
 */
export function encodeBlock(samples: Samples): Uint8Array {
  demandLengths(samples, samples.positions.length);
  return encodeReadings(samples, encodePositions(samples.positions));
}

/** The positions of one block, as all blocks of channels that were read at them have them. */
export interface EncodedPositions {
  readonly count: number;
  readonly bytes: Uint8Array;
}

/** Throws RangeError naming the first position that is none (see `Samples`). */
export function encodePositions(positions: Float64Array): EncodedPositions {
  demandPositions(positions);
  const writer = WRITER.restart();
  writePositions(writer, positions);
  return { count: positions.length, bytes: writer.written() };
}

/** As `encodeBlock`, of readings at positions that are looked at and written once for several channels. */
export function encodeReadings(readings: Readings, positions: EncodedPositions): Uint8Array {
  demandLengths(readings, positions.count);
  const runs = runsOf(readings.statuses);
  const stored = runs.some(({ status }) => status === STATUS.missing) ? withoutMissing(readings) : null;
  const writer = WRITER.restart();
  writeHead(writer, LETTERS, stored === null ? 0 : WITHOUT_MISSING, readings.values.length);
  writer.append(positions.bytes);
  writeStatuses(writer, readings.statuses, runs);
  writeValues(writer, stored ?? readings.values);
  return seal(writer);
}

/** Room for the samples of one block, used again for each that is decoded into it. */
export class BlockRoom {
  readonly positions = new Float64Array(BLOCK_SAMPLES);
  readonly values = new Float32Array(BLOCK_SAMPLES);
  readonly statuses = new Uint8Array(BLOCK_SAMPLES);
}

/**
 * The samples of a block; in arrays of their own, or in those of `room`, where they stay until it is used again.
 * @throws BlockError when the bytes are not, in full and undamaged, what `encodeBlock` made
 */
export function decodeBlock(bytes: Uint8Array, room?: BlockRoom): Samples {
  const { flags, count } = openSeal(bytes, LETTERS);
  const reader = new ByteReader(bytes, HEAD_BYTES, bytes.length - CHECK_BYTES);
  reader.demand(count >= 1 && count <= BLOCK_SAMPLES && flags <= WITHOUT_MISSING, `${count} samples, flags ${flags}`);
  const positions = room?.positions.subarray(0, count) ?? new Float64Array(count);
  const statuses = room?.statuses.subarray(0, count) ?? new Uint8Array(count);
  const values = room?.values.subarray(0, count) ?? new Float32Array(count);
  readPositions(reader, positions);
  readStatuses(reader, statuses);
  if (flags === 0) readValues(reader, values);
  else readValuesBetween(reader, statuses, values);
  reader.end();
  return { positions, values, statuses };
}

/** The values of those that are not missing, when some are and no missing one has a value; null otherwise. */
function withoutMissing({ values, statuses }: Readings): Float32Array | null {
  const bits = bitsOf(values);
  let missing = 0;
  for (let index = 0; index < bits.length; index += 1) {
    if (statuses[index] !== STATUS.missing) continue;
    if (bits[index] !== NO_VALUE_BITS) return null;
    missing += 1;
  }
  const kept = new Float32Array(bits.length - missing);
  const keptBits = bitsOf(kept);
  let at = 0;
  for (let index = 0; index < bits.length; index += 1) {
    if (statuses[index] === STATUS.missing) continue;
    keptBits[at] = bits[index] as number;
    at += 1;
  }
  return kept;
}

function readValuesBetween(reader: ByteReader, statuses: Uint8Array, values: Float32Array): void {
  const kept = new Float32Array(statuses.reduce((sum, status) => sum + (status === STATUS.missing ? 0 : 1), 0));
  readValues(reader, kept);
  const keptBits = bitsOf(kept);
  const bits = bitsOf(values);
  let at = 0;
  for (let index = 0; index < statuses.length; index += 1) {
    if (statuses[index] === STATUS.missing) bits[index] = NO_VALUE_BITS;
    else {
      bits[index] = keptBits[at] as number;
      at += 1;
    }
  }
}
