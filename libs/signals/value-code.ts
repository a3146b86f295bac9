import { ByteWriter, type ByteReader } from './bytes.js';
import { fromDecimals, likelyPlaces, MAX_PLACES, toDecimals } from './decimal-values.js';
import { packedBound, packIntegers, unpackIntegers } from './packed-integers.js';
import { bitsOf } from './sample.js';

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

/** Most bytes that `count` values can take. */
export const valueBound = (count: number): number => 1 + 4 * count;

export function writeValues(writer: ByteWriter, values: Float32Array): void {
  if (values.length === 0) return;
  writer.append(shortest(values));
}

function shortest(values: Float32Array): Uint8Array {
  const ways = likelyPlaces(values).map((places) => asDecimals(values, places)).filter((bytes) => bytes !== null);
  if (!ways.some(({ length }) => length <= SHORT * values.length)) {
    const palette = asPalette(values);
    if (palette !== null) ways.push(palette);
    ways.push(asBits(values), raw(values));
  }
  return ways.reduce((best, bytes) => (bytes.length < best.length ? bytes : best));
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

function raw(values: Float32Array): Uint8Array {
  const writer = new ByteWriter(valueBound(values.length));
  writer.byte(RAW);
  for (const bits of bitsOf(values)) writer.u32(bits);
  return writer.written();
}

function readRaw(reader: ByteReader, bits: Uint32Array): void {
  for (let index = 0; index < bits.length; index += 1) bits[index] = reader.u32();
}

function asDecimals(values: Float32Array, places: number): Uint8Array | null {
  const { numbers, apart } = toDecimals(values, places);
  // Each costs five bytes or six: beyond this share they cost more than they save.
  if (apart.length * 4 > values.length) return null;
  const first = numbers[0] as number;
  const step = commonStep(numbers);
  toStepsFrom(first, step, numbers);
  const writer = new ByteWriter(32 + apart.length * 6 + packedBound(numbers.length));
  writer.byte(DECIMALS);
  writer.byte(places);
  writer.signed(first);
  writer.count(step);
  writer.count(apart.length);
  apart.forEach((index, place) => { writer.count(index - (apart[place - 1] ?? 0)); });
  const bits = bitsOf(values);
  for (const index of apart) writer.u32(bits[index] as number);
  packIntegers(writer, numbers);
  return writer.written();
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

/** Each number, in place, by how many steps it is from the first. */
function toStepsFrom(first: number, step: number, numbers: Int32Array): void {
  for (let index = 0; index < numbers.length; index += 1) {
    const distance = (numbers[index] as number) - first;
    numbers[index] = step === 1 ? distance : distance / step;
  }
}

/** The largest whole number that divides the distance of each number from the first: steps of 0.4 count by 1 and not by 4. */
function commonStep(numbers: Int32Array): number {
  const first = numbers[0] as number;
  let step = 0;
  for (const number of numbers) {
    let distance = number < first ? first - number : number - first;
    while (distance !== 0) {
      const rest = step % distance;
      step = distance;
      distance = rest;
    }
    if (step === 1) return 1;
  }
  return Math.max(step, 1);
}

function asPalette(values: Float32Array): Uint8Array | null {
  const bits = bitsOf(values);
  const places = new Map<number, number>();
  for (let index = 0; index < bits.length && places.size <= PALETTE_SIZE; index += 1) places.set(bits[index] as number, 0);
  if (places.size > PALETTE_SIZE) return null;
  const palette = Uint32Array.from(places.keys()).sort();
  palette.forEach((one, place) => { places.set(one, place); });
  const numbers = new Int32Array(bits.length);
  for (let index = 0; index < bits.length; index += 1) numbers[index] = places.get(bits[index] as number) as number;
  const writer = new ByteWriter(8 + packedBound(palette.length) + packedBound(bits.length));
  writer.byte(PALETTE);
  writer.count(palette.length);
  packIntegers(writer, new Int32Array(palette.buffer));
  packIntegers(writer, numbers);
  return writer.written();
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

function asBits(values: Float32Array): Uint8Array {
  const bits = bitsOf(values);
  const numbers = new Int32Array(bits.length);
  for (let index = 0; index < bits.length; index += 1) numbers[index] = rising(bits[index] as number);
  const writer = new ByteWriter(1 + packedBound(values.length));
  writer.byte(BITS);
  packIntegers(writer, numbers);
  return writer.written();
}

function readBits(reader: ByteReader, bits: Uint32Array): void {
  const numbers = unpackIntegers(reader, bits.length);
  for (let index = 0; index < bits.length; index += 1) bits[index] = rising(numbers[index] as number);
}
