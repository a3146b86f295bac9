import { describe, expect, test } from '@jest/globals';
import { dropOut, emptySamples } from '../../test/fixtures/signals.js';
import { blockBound, BlockRoom, decodeBlock, encodeBlock } from './block.js';
import { ByteWriter } from './bytes.js';
import { bitsOf, NO_VALUE_BITS, type Samples } from './sample.js';
import { seal, writeHead } from './seal.js';

function samplesOf(values: Float32Array, statuses = new Uint8Array(values.length)): Samples {
  return { values, statuses, positions: Float64Array.from(values, (_, index) => index) };
}

function expectSame(back: Samples, given: Samples): void {
  expect(bitsOf(back.values).slice()).toEqual(bitsOf(given.values).slice());
  expect(back.statuses.slice()).toEqual(given.statuses.slice());
  expect(back.positions.slice()).toEqual(given.positions.slice());
}

/** Used again and again: what a block left there must not show in the next. */
const ROOM = new BlockRoom();

const expectRoundTrip = (samples: Samples): Uint8Array => {
  const bytes = encodeBlock(samples);
  expectSame(decodeBlock(bytes), samples);
  expectSame(decodeBlock(bytes, ROOM), samples);
  expect(bytes.length).toBeLessThanOrEqual(blockBound(samples.values.length));
  return bytes;
};

const withBits = (...bits: number[]): Float32Array => new Float32Array(Uint32Array.from(bits).buffer);

describe('a block', () => {
  test('keeps NaN with its payload, signalling or not, −0, subnormals and infinities bit for bit', () => {
    expectRoundTrip(samplesOf(withBits(0x7fc00001, 0x7f800001, 0xffffffff, 0x80000000, 0, 1, 0x80000001, 0x007fffff, 0x7f800000, 0xff800000, 0x7f7fffff)));
  });

  test('keeps them among decimals as well', () => {
    const values = Float32Array.from({ length: 4_096 }, (_, index) => (5_000 + (index % 40)) / 1_000);
    bitsOf(values).set([0x7fc00123, 0x80000000, 1, 0xff800000], 2_000);
    const bytes = expectRoundTrip(samplesOf(values));
    expect(bytes.length).toBeLessThan(4_096);
  });

  test.each([1, 2, 255, 4_095, 4_096])('of %i samples comes back as it is, whatever shares its memory', (count) => {
    const memory = Float32Array.from({ length: count + 3 }, (_, index) => 5 + index * 0.01);
    const given = samplesOf(memory.subarray(3));
    expectSame(decodeBlock(expectRoundTrip(given)), given);
    // Bytes that begin anywhere in larger ones, as from a driver.
    const bytes = encodeBlock(given);
    const larger = new Uint8Array(bytes.length + 20).fill(0xa5);
    larger.set(bytes, 7);
    expectSame(decodeBlock(larger.subarray(7, 7 + bytes.length)), given);
  });

  test('keeps every status, in runs and changing from sample to sample', () => {
    const values = new Float32Array(600).fill(1.5);
    expectRoundTrip(samplesOf(values, Uint8Array.from({ length: 600 }, (_, index) => Math.floor(index / 100))));
    expectRoundTrip(samplesOf(values, Uint8Array.from({ length: 600 }, (_, index) => index % 6)));
  });

  test('stores nothing for samples without value, and what the device sent for missing ones where it sent something', () => {
    const samples = samplesOf(Float32Array.from({ length: 1_000 }, (_, index) => Math.fround(5 + Math.sin(index))));
    const all = expectRoundTrip(samples).length;
    for (let index = 100; index < 900; index += 1) dropOut(samples, index);
    expect(expectRoundTrip(samples).length).toBeLessThan(all / 3);
    samples.values[500] = -999;
    expectRoundTrip(samples);
    expect(decodeBlock(encodeBlock(samples)).values[500]).toBe(-999);
    for (let index = 0; index < 1_000; index += 1) dropOut(samples, index);
    expect(expectRoundTrip(samples).length).toBeLessThan(30);
    // The same bits, read as a value: nothing is left out.
    expectRoundTrip(samplesOf(withBits(NO_VALUE_BITS, NO_VALUE_BITS)));
  });

  test('keeps positions that are even, jump, stand still, move back and lie as far apart as they can', () => {
    const at = (...positions: number[]): Samples => ({ ...emptySamples(positions.length), positions: Float64Array.from(positions) });
    expectRoundTrip(at(7, 7, 7, 7));
    expectRoundTrip(at(-3, -1, 1, 3));
    expectRoundTrip(at(100, 101, 102, 90_000, 90_001, 89_990, 89_990));
    expectRoundTrip(at(-(2 ** 52), 2 ** 52, -(2 ** 52), 0));
    expectRoundTrip(at(1_764_104_929_123_456, 1_764_104_929_133_456, 1_764_104_929_143_459));
    const bytes = encodeBlock({ ...emptySamples(4_096), positions: Float64Array.from({ length: 4_096 }, (_, index) => 1e12 + 10 * index) });
    expect(bytes.length).toBeLessThan(110);
  });

  test('of noise takes no more than four bytes a value and 36', () => {
    let state = 1;
    const bits = Uint32Array.from({ length: 4_096 }, () => (state = Math.imul(state, 1_664_525) + 1_013_904_223));
    const bytes = expectRoundTrip(samplesOf(new Float32Array(bits.buffer)));
    expect(bytes.length).toBeLessThanOrEqual(4 * 4_096 + 36);
  });

  test('of any samples has a bound of twelve bytes and three bits a sample, and 37', () => {
    for (let count = 1; count <= 4_096; count += 1) expect(blockBound(count) <= 12 * count + Math.ceil((3 * count) / 8) + 37).toBe(true);
  });

  test.each<[string, Partial<Samples>, string]>([
    ['no samples', { values: new Float32Array(0) }, 'a block has 1 to 4096 samples, not 0'],
    ['too many samples', { values: new Float32Array(4_097) }, 'a block has 1 to 4096 samples, not 4097'],
    ['too few positions', { positions: new Float64Array(2) }, '3 values have 2 positions'],
    ['too few statuses', { statuses: new Uint8Array(2) }, '3 values have 2 statuses'],
    ['an unknown status', { statuses: Uint8Array.of(0, 6, 0) }, 'status 1 is unknown: 6'],
    ['a position between whole numbers', { positions: Float64Array.of(0, 1, 1.5) }, 'position 2 is not a whole number within ±2^52: 1.5'],
    ['a position that is none', { positions: Float64Array.of(0, NaN, 1) }, 'position 1 is not a whole number within ±2^52: NaN'],
    ['a position too far out', { positions: Float64Array.of(2 ** 52 + 1, 0, 1) }, 'position 0 is not a whole number within ±2^52: 4503599627370497'],
    ['a position of −0', { positions: Float64Array.of(-0, 0, 1) }, 'position 0 is not a whole number within ±2^52: -0'],
  ])('is not made of %s', (_, wrong, message) => {
    expect(() => encodeBlock({ ...emptySamples(3), ...wrong })).toThrow(new RangeError(message));
  });
});

describe('bytes that are no block', () => {
  const good = encodeBlock(samplesOf(Float32Array.of(1, 2, 3)));
  const changed = (at: number, byte: number): Uint8Array => good.map((old, index) => (index === at ? byte : old));

  test.each<[string, Uint8Array, string, string]>([
    ['nothing', new Uint8Array(0), 'wrong-length', '0 bytes are too few to be stored signals'],
    ['something else', changed(0, 0x58), 'not-a-block', 'stored bytes do not begin with "SB"'],
    ['a later format', changed(2, 2), 'unknown-version', 'format version 2 is not known here; 1 is'],
    ['a block cut short', good.subarray(0, -1), 'wrong-length', `${good.length - 1} bytes where ${good.length} were stored`],
    ['a block and more', Uint8Array.from([...good, 0]), 'wrong-length', `${good.length + 1} bytes where ${good.length} were stored`],
    ['a changed block', changed(good.length - 5, 0xff), 'wrong-checksum', 'was stored'],
  ])('are refused: %s', (_, bytes, code, message) => {
    expect(() => decodeBlock(bytes)).toThrow(expect.objectContaining({ code, message: expect.stringContaining(message) }));
  });

  /** Bytes with a good seal that nobody encoded: count samples and what follows. */
  const sealedWith = (flags: number, count: number, ...body: number[]): Uint8Array => {
    const writer = new ByteWriter(100);
    writeHead(writer, 'SB', flags, count);
    for (const byte of body) writer.byte(byte);
    return seal(writer);
  };
  // Positions 0, 1, …: way 0, start 0, step 1. One run of statuses "read".
  const positions = [0, 0, 0, 2, 0];
  const twoRead = [0, 2 * 8];

  test.each<[string, Uint8Array, string]>([
    ['no samples', sealedWith(0, 0), '0 samples, flags 0'],
    ['too many samples', sealedWith(0, 4_097, ...positions), '4097 samples, flags 0'],
    ['unknown flags', sealedWith(2, 2, ...positions, ...twoRead, 0), '2 samples, flags 2'],
    ['an unknown way for positions', sealedWith(0, 2, 3), 'no way 3 of keeping positions'],
    ['an unknown way for statuses', sealedWith(0, 2, ...positions, 2), 'no way 2 of keeping statuses'],
    ['a run of statuses past the end', sealedWith(0, 2, ...positions, 0, 3 * 8), 'a run of 3 statuses 0 at 0 of 2'],
    ['a run of no statuses', sealedWith(0, 2, ...positions, 0, 0), 'a run of 0 statuses 0 at 0 of 2'],
    ['an unknown status', sealedWith(0, 2, ...positions, 0, 2 * 8 + 6), 'a run of 2 statuses 6 at 0 of 2'],
    ['an unknown status in bits', sealedWith(0, 2, ...positions, 1, 7), 'a status is unknown'],
    ['an unknown way for values', sealedWith(0, 2, ...positions, ...twoRead, 4), 'no way 4 of keeping values'],
    ['too few values', sealedWith(0, 2, ...positions, ...twoRead, 0, 1, 2, 3, 4, 5, 6, 7), '4 bytes are wanted where 3 are left'],
    ['too many decimal places', sealedWith(0, 2, ...positions, ...twoRead, 1, 8), '8 decimal places'],
    ['a value kept apart past the end', sealedWith(0, 2, ...positions, ...twoRead, 1, 0, 0, 0, 1, 1, 2), 'value 2 of 2 is kept apart'],
    ['an empty palette', sealedWith(0, 2, ...positions, ...twoRead, 2, 0), 'a palette of 0 values'],
    ['a place outside the palette', sealedWith(0, 2, ...positions, ...twoRead, 2, 1, 64, 66, 0b1110), 'place 1 in a palette of 1'],
    ['bytes left over', sealedWith(0, 2, ...positions, ...twoRead, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9), '1 bytes are left over'],
  ])('are refused though the checksum is good: %s', (_, bytes, why) => {
    expect(() => decodeBlock(bytes)).toThrow(expect.objectContaining({ code: 'contradictory', message: expect.stringContaining(why) }));
  });
});
