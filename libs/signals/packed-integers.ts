import type { ByteReader, ByteWriter } from './bytes.js';

/*
 * Whole numbers of 32 bits in groups of 64. Each group takes the shorter of two ways: above its least (good for noise about
 * a level), or as differences from number to number (good for drift and steps). Both are taken modulo 2^32, which loses
 * nothing. A group is one byte for way and width, the least where it is needed, and the numbers in as many bits as the
 * largest wants. An outlier makes its own group wide and no other.
 */

const GROUP = 64;
/** One group at a time, as it is written. */
const PACKED = new Int32Array(GROUP);
/** Numbers of so few bits are joined by four before they are written. */
const NARROW = 8;
const FOURS = GROUP / 4;
const DIFFERENCES = 64;
/** What a least can take: five bytes; and the byte before it. */
const HEAD_BYTES = 6;

/** Most bytes that `count` numbers can take. */
export const packedBound = (count: number): number => count * 4 + Math.ceil(count / GROUP) * HEAD_BYTES;

const widthOf = (largest: number): number => 32 - Math.clz32(largest);
const zigzag = (difference: number): number => (difference << 1) ^ (difference >> 31);

/** Leaves off where the writer has come up to `tooLong`. */
export function packIntegers(writer: ByteWriter, numbers: Int32Array, tooLong = Infinity): void {
  let last = 0;
  let lastLeast = 0;
  for (let from = 0; from < numbers.length && writer.length < tooLong; from += GROUP) {
    const size = Math.min(GROUP, numbers.length - from);
    look(numbers, from, from + size, last);
    const { least, width, differenceWidth } = LOOKED;
    // The least takes a byte or more as well.
    if (differenceWidth * size <= width * size + 8) {
      writer.byte(DIFFERENCES + differenceWidth);
      if (differenceWidth > 0) writeDifferences(writer, numbers, from, size, last, differenceWidth);
    } else {
      writer.byte(width);
      writer.signed(least - lastLeast);
      lastLeast = least;
      writeAbove(writer, numbers, from, size, least, width);
    }
    last = numbers[from + size - 1] as number;
  }
}

/** What a look at a group found. */
const LOOKED = { least: 0, width: 0, differenceWidth: 0 };

/*
 * The loops from here on take four numbers at a time: of one at a time, counting and checking where one is costs as much as the rest.
 */

/** What the numbers from index `from` up to, and without, `to` want, the one before them being `last`. */
function look(numbers: Int32Array, from: number, to: number, last: number): void {
  let least = numbers[from] as number;
  let most = least;
  let differences = 0;
  let before = last;
  let index = from;
  for (; index + 3 < to; index += 4) {
    const [a, b, c, d] = [numbers[index] as number, numbers[index + 1] as number, numbers[index + 2] as number, numbers[index + 3] as number];
    if (a < least) least = a; else if (a > most) most = a;
    if (b < least) least = b; else if (b > most) most = b;
    if (c < least) least = c; else if (c > most) most = c;
    if (d < least) least = d; else if (d > most) most = d;
    differences |= zigzag((a - before) | 0) | zigzag((b - a) | 0) | zigzag((c - b) | 0) | zigzag((d - c) | 0);
    before = d;
  }
  for (; index < to; index += 1) {
    const number = numbers[index] as number;
    if (number < least) least = number; else if (number > most) most = number;
    differences |= zigzag((number - before) | 0);
    before = number;
  }
  LOOKED.least = least;
  LOOKED.width = widthOf(most - least);
  LOOKED.differenceWidth = widthOf(differences);
}

function writeAbove(writer: ByteWriter, numbers: Int32Array, from: number, size: number, least: number, width: number): void {
  if (size < GROUP || width > NARROW) {
    for (let index = 0; index < size; index += 1) PACKED[index] = (numbers[from + index] as number) - least;
    writer.bits(PACKED, size, width);
    return;
  }
  for (let four = 0; four < FOURS; four += 1) {
    const at = from + 4 * four;
    PACKED[four] = ((numbers[at] as number) - least) | (((numbers[at + 1] as number) - least) << width)
      | (((numbers[at + 2] as number) - least) << (2 * width)) | (((numbers[at + 3] as number) - least) << (3 * width));
  }
  writer.bits(PACKED, FOURS, 4 * width);
}

function writeDifferences(writer: ByteWriter, numbers: Int32Array, from: number, size: number, last: number, width: number): void {
  let before = last;
  if (size < GROUP || width > NARROW) {
    for (let index = 0; index < size; index += 1) {
      const number = numbers[from + index] as number;
      PACKED[index] = zigzag((number - before) | 0);
      before = number;
    }
    writer.bits(PACKED, size, width);
    return;
  }
  for (let four = 0; four < FOURS; four += 1) {
    const at = from + 4 * four;
    const [a, b, c, d] = [numbers[at] as number, numbers[at + 1] as number, numbers[at + 2] as number, numbers[at + 3] as number];
    PACKED[four] = zigzag(a - before) | (zigzag(b - a) << width) | (zigzag(c - b) << (2 * width)) | (zigzag(d - c) << (3 * width));
    before = d;
  }
  writer.bits(PACKED, FOURS, 4 * width);
}

/** Groups are unpacked one at a time: the room for one is taken once. */
const UNPACKED = new Uint32Array(GROUP);

/** @throws BlockError 'contradictory' when the bytes are not `count` packed numbers */
export function unpackIntegers(reader: ByteReader, count: number): Int32Array {
  const numbers = new Int32Array(count);
  const packed = UNPACKED;
  let last = 0;
  let lastLeast = 0;
  for (let from = 0; from < count; from += GROUP) {
    const size = Math.min(GROUP, count - from);
    const head = reader.byte();
    const width = head & (DIFFERENCES - 1);
    reader.demand(width <= 32 && head < 2 * DIFFERENCES, `there is no group of kind ${head}`);
    if (head >= DIFFERENCES) {
      readGroup(reader, packed, size, width);
      for (let index = 0; index < size; index += 1) {
        const coded = packed[index] as number;
        last = (last + ((coded >>> 1) ^ -(coded & 1))) | 0;
        numbers[from + index] = last;
      }
    } else {
      lastLeast += reader.signed();
      readGroup(reader, packed, size, width);
      for (let index = 0; index < size; index += 1) numbers[from + index] = lastLeast + (packed[index] as number);
      last = numbers[from + size - 1] as number;
    }
  }
  return numbers;
}

function readGroup(reader: ByteReader, packed: Uint32Array, size: number, width: number): void {
  if (width === 0) packed.fill(0, 0, size);
  else reader.bits(packed, size, width);
}
