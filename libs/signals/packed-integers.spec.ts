import { describe, expect, test } from '@jest/globals';
import { ByteReader, ByteWriter } from './bytes.js';
import { packedBound, packIntegers, unpackIntegers } from './packed-integers.js';

function bytesOf(numbers: Int32Array): Uint8Array {
  const writer = new ByteWriter(packedBound(numbers.length));
  packIntegers(writer, numbers);
  return writer.written();
}

const thereAndBack = (numbers: Int32Array): Int32Array => {
  const bytes = bytesOf(numbers);
  const reader = new ByteReader(bytes, 0, bytes.length);
  const back = unpackIntegers(reader, numbers.length);
  reader.end();
  return back;
};

describe('packed whole numbers', () => {
  test('come back in every width, with full and part groups', () => {
    for (let width = 0; width <= 32; width += 1) {
      for (const size of [1, 2, 63, 64, 65, 130]) {
        // The first number of a group is 0 and others use all bits, so that both ways are as wide as they can be.
        const numbers = Int32Array.from({ length: size }, (_, index) => (width === 0 ? 7 : index % 3 === 0 ? 0 : (-1 >>> (32 - width)) - index * (width > 9 ? 1 : 0)));
        expect(thereAndBack(numbers)).toEqual(numbers);
      }
    }
  });

  test('are left off with the first group that comes up to what is too long, and written in full where none does', () => {
    const numbers = Int32Array.from({ length: 256 }, (_, index) => (index * 7919) % 1000);
    const whole = bytesOf(numbers);
    for (const tooLong of [1, 100, 200, whole.length, whole.length + 1]) {
      const writer = new ByteWriter(packedBound(numbers.length));
      packIntegers(writer, numbers, tooLong);
      expect(writer.written()).toEqual(whole.subarray(0, writer.length));
      expect(writer.length).toBeGreaterThanOrEqual(Math.min(tooLong, whole.length));
      expect(writer.length - Math.min(tooLong, whole.length)).toBeLessThan(packedBound(64));
    }
  });

  test('wrap around where a difference is larger than a number can be', () => {
    const numbers = Int32Array.from([2 ** 31 - 1, -(2 ** 31), 2 ** 31 - 1, 0, -(2 ** 31), -1]);
    expect(thereAndBack(numbers)).toEqual(numbers);
    const far = Int32Array.from({ length: 200 }, (_, index) => (index % 2 === 0 ? 2 ** 31 - 1 - index : -(2 ** 31) + index));
    expect(thereAndBack(far)).toEqual(far);
  });

  test('take bits as their way wants: a level with noise, a ramp, and the same number again and again', () => {
    const noise = Int32Array.from({ length: 64 }, (_, index) => 5_000 + ((index * 37) % 16));
    expect(bytesOf(noise)).toHaveLength(1 + 2 + 32);
    // The first difference is the first number; the ramp goes on into the next groups at two bits each.
    const ramp = Int32Array.from({ length: 128 }, (_, index) => index);
    expect(bytesOf(ramp)).toHaveLength(2 * (1 + 16));
    expect(bytesOf(new Int32Array(4_096))).toHaveLength(64);
  });

  test('stay within their bound, whatever they are', () => {
    const worst = Int32Array.from({ length: 4_096 }, (_, index) => (index % 2 === 0 ? 2 ** 31 - 1 : -(2 ** 31)) ^ (index * 7_919));
    expect(bytesOf(worst).length).toBeLessThanOrEqual(packedBound(4_096));
  });

  test('are refused where the bytes end early or name no way', () => {
    const bytes = bytesOf(Int32Array.from({ length: 64 }, (_, index) => index * index));
    expect(() => unpackIntegers(new ByteReader(bytes, 0, bytes.length - 1), 64)).toThrow(expect.objectContaining({ code: 'contradictory' }));
    for (const head of [33, 64 + 33, 128]) {
      expect(() => unpackIntegers(new ByteReader(Uint8Array.from([head, 0, 0, 0, 0, 0]), 0, 6), 1)).toThrow(`there is no group of kind ${head}`);
    }
  });
});
