import { ByteWriter, type ByteReader } from './bytes.js';
import { fromDecimals, likelyPlaces, MAX_PLACES, toDecimals } from './decimal-values.js';
import { packedBound, packIntegers, unpackIntegers } from './packed-integers.js';
import { bitsOf, BLOCK_SAMPLES } from './sample.js';

/*
 * Values, by the shortest of four ways:
 * - decimals: whole numbers of the instrument's resolution, packed; values that are none are kept apart by their bits;
 * - a palette: the different values, sorted by their bits, and for each sample its place among them (an 8-bit converter);
 * - bits: the float32 as a whole number that rises with the value, packed, so that a common exponent costs nothing;
 * - raw: four bytes each. Noise ends here, so that no values take more than four bytes each and one for the way.
 */

const RAW = 0;
const DECIMALS = 1;
const PALETTE = 2;
const BITS = 3;
const PALETTE_SIZE = 1_024;
/** With decimals this short, in bytes a value, the other ways are not tried. */
const SHORT = 2;

/** Blocks are written one at a time: what each would need anew, and the collector take away, is taken once. */
const NUMBERS = new Int32Array(BLOCK_SAMPLES);
const MET = new Uint32Array(PALETTE_SIZE);
/** The place in the sorted palette of each that was met. */
const PLACES = new Int32Array(PALETTE_SIZE);
/** Four times as many as a palette has, so that most values meet their own at once. */
const SLOTS = new Uint16Array(4 * PALETTE_SIZE);
/** Leaves the 12 bits of a slot's number. */
const SLOT_SHIFT = 20;
/** 2^32 over the golden ratio, odd: neighbours fall far apart (Knuth, The Art of Computer Programming 3, 6.4). */
const SPREAD = 0x9e3779b1;
const { abs, imul, max } = Math;

/** Most bytes that `count` values can take. */
export const valueBound = (count: number): number => 1 + 4 * count;

/** Room that any one way takes while it is tried: four bytes a value and a group's head, or a quarter of the values kept apart as well. */
export const trialBound = (count: number): number => 40 + 2 * count + packedBound(PALETTE_SIZE) + packedBound(count);

/** The writer needs room for two trials. */
export function writeValues(writer: ByteWriter, values: Float32Array): void {
  if (values.length === 0) return;
  const best = new Shortest(writer);
  for (const places of likelyPlaces(values)) best.attempt((tooLong) => { writeDecimals(writer, values, places, tooLong); });
  if (best.bytes <= SHORT * values.length) return;
  best.attempt((tooLong) => { writePalette(writer, bitsOf(values), tooLong); });
  best.attempt((tooLong) => { writeBits(writer, bitsOf(values), tooLong); });
  if (best.bytes > valueBound(values.length)) best.attempt(() => { writeRaw(writer, bitsOf(values)); });
}

/** Of several attempts to write the same, each written behind the best so far, the shortest stays; of equally short ones the first. */
class Shortest {
  /** What the best attempt takes; infinite while there is none. */
  bytes = Infinity;
  private readonly start: number;

  constructor(private readonly writer: ByteWriter) {
    this.start = writer.length;
  }

  /** What writes nothing is no attempt. What has written up to `tooLong` is no shorter than the best, and need not go on. */
  attempt(write: (tooLong: number) => void): void {
    const from = this.writer.length;
    write(from + this.bytes);
    const bytes = this.writer.length - from;
    if (bytes > 0 && bytes < this.bytes) {
      this.writer.drop(this.start, from);
      this.bytes = bytes;
    } else this.writer.rewind(from);
  }
}

/** @throws BlockError 'contradictory' when the bytes are not so many values */
export function readValues(reader: ByteReader, values: Float32Array): void {
  if (values.length === 0) return;
  const way = reader.byte();
  reader.demand(way <= BITS, `there is no way ${way} of keeping values`);
  if (way === DECIMALS) readDecimals(reader, values);
  else if (way === PALETTE) readPalette(reader, bitsOf(values));
  else if (way === BITS) readBits(reader, bitsOf(values));
  else readRaw(reader, bitsOf(values));
}

function writeRaw(writer: ByteWriter, bits: Uint32Array): void {
  writer.byte(RAW);
  for (const one of bits) writer.u32(one);
}

function readRaw(reader: ByteReader, bits: Uint32Array): void {
  for (let index = 0; index < bits.length; index += 1) bits[index] = reader.u32();
}

function writeDecimals(writer: ByteWriter, values: Float32Array, places: number, tooLong: number): void {
  const { first, distances, apart } = toDecimals(values, places, NUMBERS.subarray(0, values.length));
  // Each costs five bytes or six: beyond this share they cost more than they save.
  if (apart.length * 4 > values.length) return;
  const step = toSteps(distances);
  writer.byte(DECIMALS);
  writer.byte(places);
  writer.signed(first);
  writer.count(step);
  writer.count(apart.length);
  apart.forEach((index, place) => { writer.count(index - (apart[place - 1] ?? 0)); });
  const bits = bitsOf(values);
  for (const index of apart) writer.u32(bits[index] as number);
  packIntegers(writer, distances, tooLong);
}

function readDecimals(reader: ByteReader, values: Float32Array): void {
  const places = reader.byte();
  reader.demand(places <= MAX_PLACES, `${places} decimal places`);
  const [first, step] = [reader.signed(), reader.count()];
  const apart = new Uint32Array(Math.min(reader.count(), values.length));
  let last = 0;
  for (let place = 0; place < apart.length; place += 1) {
    last += reader.count();
    reader.demand(last < values.length, `value ${last} of ${values.length} is kept apart`);
    apart[place] = last;
  }
  const kept = apart.map(() => reader.u32());
  fromDecimals(unpackIntegers(reader, values.length), { first, step, places }, values);
  const bits = bitsOf(values);
  apart.forEach((index, place) => { bits[index] = kept[place] as number; });
}

/**
 * Each distance, in place, as a number of steps; the step is the largest whole number that divides all of them: steps of 0.4 count by
 * 1 and not by 4. Gives the step.
 */
function toSteps(distances: Int32Array): number {
  const step = commonStep(distances);
  if (step > 1) for (let index = 0; index < distances.length; index += 1) distances[index] = (distances[index] as number) / step;
  return step;
}

function commonStep(distances: Int32Array): number {
  let step = 0;
  for (let index = 0; index < distances.length && step !== 1; index += 1) {
    const distance = abs(distances[index] as number);
    if (step === 0 || distance % step !== 0) step = commonDivisor(step, distance);
  }
  return max(step, 1);
}

/** Of two whole numbers from 0 on; that of 0 and another is the other. */
function commonDivisor(one: number, other: number): number {
  let [divisor, rest] = [one, other];
  while (rest !== 0) [divisor, rest] = [rest, divisor % rest];
  return divisor;
}

/** Writes nothing when there are too many different values. */
function writePalette(writer: ByteWriter, bits: Uint32Array, tooLong: number): void {
  const numbers = NUMBERS.subarray(0, bits.length);
  const met = numberOnes(bits, numbers);
  if (met === null) return;
  const palette = met.slice().sort();
  for (let place = 0; place < palette.length; place += 1) PLACES[numberOf(palette[place] as number)] = place;
  for (let index = 0; index < numbers.length; index += 1) numbers[index] = PLACES[numbers[index] as number] as number;
  writer.byte(PALETTE);
  writer.count(palette.length);
  packIntegers(writer, new Int32Array(palette.buffer));
  packIntegers(writer, numbers, tooLong);
}

/**
 * The different ones of `bits` in the order in which they are met, and for each of `bits` its number among them into `numbers`; null
 * when there are too many. By a table of slots, each with one more than a number or 0: a Map takes ten times as long.
 */
function numberOnes(bits: Uint32Array, numbers: Int32Array): Uint32Array | null {
  SLOTS.fill(0);
  let count = 0;
  for (let index = 0; index < bits.length; index += 1) {
    const one = bits[index] as number;
    let slot = imul(one, SPREAD) >>> SLOT_SHIFT;
    while (SLOTS[slot] !== 0 && MET[(SLOTS[slot] as number) - 1] !== one) slot = (slot + 1) & (SLOTS.length - 1);
    if (SLOTS[slot] === 0) {
      if (count === PALETTE_SIZE) return null;
      MET[count] = one;
      count += 1;
      SLOTS[slot] = count;
    }
    numbers[index] = (SLOTS[slot] as number) - 1;
  }
  return MET.subarray(0, count);
}

/** The number that `numberOnes` gave to one that it met. */
function numberOf(one: number): number {
  let slot = imul(one, SPREAD) >>> SLOT_SHIFT;
  while (MET[(SLOTS[slot] as number) - 1] !== one) slot = (slot + 1) & (SLOTS.length - 1);
  return (SLOTS[slot] as number) - 1;
}

function readPalette(reader: ByteReader, bits: Uint32Array): void {
  const size = reader.count();
  reader.demand(size >= 1 && size <= PALETTE_SIZE, `a palette of ${size} values`);
  const palette = unpackIntegers(reader, size);
  const places = unpackIntegers(reader, bits.length);
  for (let index = 0; index < bits.length; index += 1) {
    const place = places[index] as number;
    if (place < 0 || place >= size) reader.demand(false, `place ${place} in a palette of ${size}`);
    bits[index] = palette[place] as number;
  }
}

/** Its own inverse: the bits of a float32 as a whole number that rises with the value. */
const rising = (bits: number): number => bits ^ ((bits >> 31) & 0x7fffffff);

function writeBits(writer: ByteWriter, bits: Uint32Array, tooLong: number): void {
  const numbers = NUMBERS.subarray(0, bits.length);
  for (let index = 0; index < bits.length; index += 1) numbers[index] = rising(bits[index] as number);
  writer.byte(BITS);
  packIntegers(writer, numbers, tooLong);
}

function readBits(reader: ByteReader, bits: Uint32Array): void {
  const numbers = unpackIntegers(reader, bits.length);
  for (let index = 0; index < bits.length; index += 1) bits[index] = rising(numbers[index] as number);
}
