import type { ByteReader, ByteWriter } from './bytes.js';

/*
 * Whole numbers of 32 bits in groups of 64. Each group takes the shorter of two ways: above its least (good for noise about
 * a level), or as differences from number to number (good for drift and steps). Both are taken modulo 2^32, which loses
 * nothing. A group is one byte for way and width, the least where it is needed, and the numbers in as many bits as the
 * largest wants. An outlier makes its own group wide and no other.
 */

const GROUP = 64;
const DIFFERENCES = 64;
/** What a least can take: five bytes; and the byte before it. */
const HEAD_BYTES = 6;

/** Most bytes that `count` numbers can take. */
export const packedBound = (count: number): number => count * 4 + Math.ceil(count / GROUP) * HEAD_BYTES;

const widthOf = (largest: number): number => 32 - Math.clz32(largest);
const zigzag = (difference: number): number => ((difference << 1) ^ (difference >> 31)) >>> 0;

export function packIntegers(writer: ByteWriter, numbers: Int32Array): void {
  const packed = new Uint32Array(GROUP);
  let last = 0;
  let lastLeast = 0;
  for (let from = 0; from < numbers.length; from += GROUP) {
    const size = Math.min(GROUP, numbers.length - from);
    let [least, most, differences] = [numbers[from] as number, numbers[from] as number, 0];
    let before = last;
    for (let index = from; index < from + size; index += 1) {
      const number = numbers[index] as number;
      if (number < least) least = number;
      if (number > most) most = number;
      differences |= zigzag((number - before) | 0);
      before = number;
    }
    const [width, differenceWidth] = [widthOf(most - least), widthOf(differences)];
    // The least takes a byte or more as well.
    if (differenceWidth * size <= width * size + 8) {
      let previous = last;
      for (let index = 0; index < size; index += 1) {
        const number = numbers[from + index] as number;
        packed[index] = zigzag((number - previous) | 0);
        previous = number;
      }
      writer.byte(DIFFERENCES + differenceWidth);
      if (differenceWidth > 0) writer.bits(packed, size, differenceWidth);
    } else {
      for (let index = 0; index < size; index += 1) packed[index] = (numbers[from + index] as number) - least;
      writer.byte(width);
      writer.signed(least - lastLeast);
      lastLeast = least;
      if (width > 0) writer.bits(packed, size, width);
    }
    last = before;
  }
}

/** Groups are unpacked one at a time: the room for one is taken once. */
const PACKED = new Uint32Array(GROUP);

/** @throws BlockError 'contradictory' when the bytes are not `count` packed numbers */
export function unpackIntegers(reader: ByteReader, count: number): Int32Array {
  const numbers = new Int32Array(count);
  const packed = PACKED;
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
