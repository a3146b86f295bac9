import { describe, expect, test } from '@jest/globals';
import {
  Decimal, DateMillisecond, Dictionary, Float16, Int32, Int8, TimestampMillisecond, TimestampNanosecond, TimestampSecond, Uint16, Uint64, Utf8, makeData, vectorFromArray, type Data,
} from 'apache-arrow';
import { bitsOf, NO_VALUE_BITS, STATUS } from '#libs/signals';
import { arrowStream, float32s, float64s, instants, int64s, refusalOf, shapeOf } from '../../test/fixtures/sample-files.js';
import { decodePart, NO_RULES, type PartShape } from './index.js';

const POSITIONS = BigInt64Array.of(1n, 2n, 2n, 5n);
const four = (...values: number[]): Data => float32s(Float32Array.from(values));
const streamOf = (position: Data, wall: Data = four(1, 2, 3, 4)): Uint8Array => arrowStream([{ name: 'position', batches: [position] }, { name: 'wall', batches: [wall] }]);
const counter = (decimals: number): PartShape => shapeOf({ position: { name: 'position', kind: 'counter', decimals } });
const TIME = shapeOf({ position: { name: 'position', kind: 'time' } });
const positionsOf = (position: Data, shape: PartShape): number[] => [...decodePart(streamOf(position), shape).positions];

describe('float32 values', () => {
  test('keep every bit, NaN payloads too, over batches; a null has none', () => {
    const given = new Float32Array(6);
    bitsOf(given).set([0x7fc00000, 0x7f800001, 0xffc12345, 0x80000000, 0x3fc00000, 0x00000001]);
    const bytes = arrowStream([
      { name: 'wall', batches: [float32s(given.slice(0, 2)), float32s(given.slice(2), [true, true, false, true])] },
      { name: 'position', batches: [int64s(BigInt64Array.of(-1n, 0n)), int64s(BigInt64Array.of(0n, 1n, 2n, 3n))] },
    ]);
    const { positions, columns: [wall], narrowed } = decodePart(bytes, shapeOf());
    expect([...bitsOf(wall!.values)]).toEqual([0x7fc00000, 0x7f800001, 0xffc12345, 0x80000000, NO_VALUE_BITS, 0x00000001]);
    expect([...wall!.statuses]).toEqual([STATUS.missing, STATUS.missing, STATUS.missing, STATUS.read, STATUS.missing, STATUS.read]);
    expect([...positions]).toEqual([-1, 0, 0, 1, 2, 3]);
    expect(narrowed).toBe(0);
  });

  test('are read wherever the bytes lie in memory', () => {
    const bytes = streamOf(int64s(POSITIONS));
    for (let shift = 1; shift < 9; shift += 1) {
      const moved = new Uint8Array(bytes.length + shift).subarray(shift);
      moved.set(bytes);
      const { positions, columns } = decodePart(moved, shapeOf());
      expect([[...positions], [...columns[0]!.values]]).toEqual([[1, 2, 2, 5], [1, 2, 3, 4]]);
    }
  });

  test('are given back in memory of their own', () => {
    const bytes = streamOf(int64s(POSITIONS));
    const { positions, columns } = decodePart(bytes, shapeOf());
    bytes.fill(0xff);
    expect([[...positions], [...columns[0]!.values]]).toEqual([[1, 2, 2, 5], [1, 2, 3, 4]]);
  });
});

describe('other values', () => {
  test('become the nearest float32, and those that are not the same number are counted', () => {
    const doubles = float64s(Float64Array.of(0.5, 5.01, NaN, 1e39), [true, true, true, true]);
    const { columns: [wall], narrowed } = decodePart(streamOf(int64s(POSITIONS), doubles), shapeOf());
    expect([...wall!.values]).toEqual([0.5, Math.fround(5.01), NaN, Infinity]);
    expect([...wall!.statuses]).toEqual([STATUS.read, STATUS.read, STATUS.missing, STATUS.implausible]);
    expect(bitsOf(wall!.values)[2]).toBe(NO_VALUE_BITS);
    expect(narrowed).toBe(2);
  });

  test('in the place of a null count for nothing', () => {
    const { columns: [wall], narrowed } = decodePart(streamOf(int64s(POSITIONS), float64s(Float64Array.of(0.1, NaN, 1, 2), [false, false, true, true])), shapeOf());
    expect([...wall!.statuses]).toEqual([STATUS.missing, STATUS.missing, STATUS.read, STATUS.read]);
    expect([...bitsOf(wall!.values).slice(0, 2)]).toEqual([NO_VALUE_BITS, NO_VALUE_BITS]);
    expect(narrowed).toBe(0);
  });

  test('of 64 bits are rounded once', () => {
    // 2^60 + 2^36 lies halfway between two float32s; one more is beyond it, which the nearest double does not show.
    const halfway = 2n ** 60n + 2n ** 36n;
    const wall = int64s(BigInt64Array.of(halfway, halfway + 1n, -halfway - 1n, 7n));
    const { columns, narrowed } = decodePart(streamOf(int64s(POSITIONS), wall), shapeOf());
    expect([...columns[0]!.values]).toEqual([2 ** 60, 2 ** 60 + 2 ** 37, -(2 ** 60) - 2 ** 37, 7]);
    expect(narrowed).toBe(3);
  });

  test('of other integer types', () => {
    const data = makeData({ type: new Uint16(), length: 4, data: Uint16Array.of(65535, 0, 1, 2), nullCount: 0 });
    expect([...decodePart(streamOf(int64s(POSITIONS), data), shapeOf()).columns[0]!.values]).toEqual([65535, 0, 1, 2]);
  });
});

describe('positions', () => {
  const decimal = (values: readonly number[], scale: number): Data => {
    const words = new Uint32Array(values.length * 4);
    values.forEach((value, index) => { for (let word = 0; word < 4; word += 1) words[index * 4 + word] = Number(BigInt.asUintN(32, BigInt(value) >> BigInt(32 * word))); });
    return makeData({ type: new Decimal(scale, 20), length: values.length, data: words, nullCount: 0 });
  };

  test('are readings of the counter times a power of ten, whatever their type', () => {
    expect(positionsOf(int64s(BigInt64Array.of(-7n, 0n, 1n, 4_503_599_627_370n)), counter(3))).toEqual([-7000, 0, 1000, 4_503_599_627_370_000]);
    expect(positionsOf(makeData({ type: new Int8(), length: 4, data: Int8Array.of(-128, 0, 1, 127), nullCount: 0 }), counter(6))).toEqual([-128e6, 0, 1e6, 127e6]);
    expect(positionsOf(makeData({ type: new Uint64(), length: 4, data: BigUint64Array.of(0n, 1n, 2n, 2n ** 52n), nullCount: 0 }), counter(0))).toEqual([0, 1, 2, 2 ** 52]);
    expect(positionsOf(float64s(Float64Array.of(-0.001, 0, 123.456, 4_503_599_627_370.495)), counter(3))).toEqual([-1, 0, 123_456, 4_503_599_627_370_495]);
    expect(positionsOf(decimal([-12_340, 0, 10, 1_230], 4), counter(3))).toEqual([-1234, 0, 1, 123]);
    expect(positionsOf(decimal([-1, 0, 1, 2], 1), counter(3))).toEqual([-100, 0, 100, 200]);
  });

  test('are microseconds where they are times', () => {
    const at = 1_764_061_200n;
    const of = (Type: typeof TimestampSecond | typeof TimestampMillisecond | typeof TimestampNanosecond, unit: bigint): Data =>
      makeData({ type: new Type('Europe/Oslo'), length: 4, data: BigInt64Array.of(-unit, 0n, unit, at * unit), nullCount: 0 });
    const expected = [-1e6, 0, 1e6, 1_764_061_200e6];
    expect(positionsOf(of(TimestampSecond, 1n), TIME)).toEqual(expected);
    expect(positionsOf(of(TimestampMillisecond, 1_000n), TIME)).toEqual(expected);
    expect(positionsOf(instants(BigInt64Array.of(-1_000_000n, 0n, 1_000_000n, at * 1_000_000n)), TIME)).toEqual(expected);
    expect(positionsOf(of(TimestampNanosecond, 1_000_000_000n), TIME)).toEqual(expected);
    expect(positionsOf(int64s(BigInt64Array.of(-1n, 0n, 1n, at)), TIME)).toEqual([-1, 0, 1, 1_764_061_200]);
  });

  test('that cannot be are refused by their row', () => {
    const refused = (data: Data, shape: PartShape): unknown => {
      const { code, field, row, value } = refusalOf(streamOf(data), shape);
      return { code, field, row, value };
    };
    const wrong = (row: number, value: string | null): object => ({ code: 'wrong-position', field: 'position', row, value });
    expect(refused(float64s(Float64Array.of(0, NaN, 1, 2)), counter(0))).toEqual(wrong(2, 'NaN'));
    expect(refused(float64s(Float64Array.of(0, 1, 1.5, 2)), counter(0))).toEqual(wrong(3, '1.5'));
    expect(refused(float64s(Float64Array.of(0, 1, 1.5, 1.55)), counter(1))).toEqual(wrong(4, '1.55'));
    expect(refused(float64s(Float64Array.of(0, 1, 2, Infinity)), counter(0))).toEqual(wrong(4, 'Infinity'));
    expect(refused(float64s(Float64Array.of(-0, 1, 2, 3)), counter(0))).toEqual(wrong(1, '-0'));
    expect(refused(float64s(Float64Array.of(0, 1, 2, 2 ** 52 + 1)), counter(0))).toEqual(wrong(4, '4503599627370497'));
    expect(refused(int64s(BigInt64Array.of(0n, 2n ** 62n, 3n, 4n)), counter(0))).toEqual(wrong(2, String(2n ** 62n)));
    expect(refused(int64s(BigInt64Array.of(0n, 1n, 2n, 5_000_000_000n)), counter(6))).toEqual(wrong(4, '5000000000'));
    expect(refused(int64s(BigInt64Array.of(0n, 1n, 2n, 3n), [true, true, false, true]), counter(0))).toEqual(wrong(3, null));
    expect(refused(decimal([0, 1, 2, 15], 1), counter(0))).toEqual(wrong(2, '1e-1'));
    expect(refused(makeData({ type: new TimestampNanosecond('UTC'), length: 4, data: BigInt64Array.of(0n, 1000n, 2001n, 3000n), nullCount: 0 }), TIME)).toEqual(wrong(3, '2001 ns'));
  });

  test('that go against the direction are refused by their row and both values; those that stay are taken', () => {
    const falling = streamOf(int64s(BigInt64Array.of(5n, 7n, 7n, 6n)));
    expect(refusalOf(falling)).toMatchObject({ code: 'wrong-order', field: 'position', row: 4, value: '6', limit: '7', message: expect.stringMatching(/row 4: position 6 lies below 7/) });
    expect(refusalOf(falling, shapeOf({ direction: 'backward' }))).toMatchObject({ code: 'wrong-order', row: 2, value: '7', limit: '5' });
    expect([...decodePart(streamOf(int64s(BigInt64Array.of(7n, 7n, 6n, -1n))), shapeOf({ direction: 'backward' })).positions]).toEqual([7, 7, 6, -1]);
  });
});

describe('columns', () => {
  const refusedType = (position: Data, wall: Data = four(1, 2, 3, 4), shape = shapeOf()): [string, string | null] => {
    const { code, field } = refusalOf(streamOf(position, wall), shape);
    return [code, field];
  };

  test('of a type that is not taken are refused by their name', () => {
    const position = int64s(POSITIONS);
    const dictionary = vectorFromArray(['a', 'b', 'a', 'b'], new Dictionary(new Utf8(), new Int32())).data[0] as Data;
    expect(refusedType(position, vectorFromArray(['a', 'b', 'c', 'd'], new Utf8()).data[0] as Data)).toEqual(['wrong-type', 'wall']);
    expect(refusedType(position, dictionary)).toEqual(['wrong-type', 'wall']);
    expect(refusedType(position, vectorFromArray([[1], [2], [3], [4]]).data[0] as Data)).toEqual(['wrong-type', 'wall']);
    expect(refusedType(position, makeData({ type: new Float16(), length: 4, data: new Uint16Array(4), nullCount: 0 }))).toEqual(['wrong-type', 'wall']);
    expect(refusedType(position, instants(POSITIONS))).toEqual(['wrong-type', 'wall']);
    expect(refusedType(four(1, 2, 3, 4))).toEqual(['wrong-type', 'position']);
    expect(refusedType(instants(POSITIONS))).toEqual(['wrong-type', 'position']);
    expect(refusedType(float64s(new Float64Array(4)), four(1, 2, 3, 4), TIME)).toEqual(['wrong-type', 'position']);
    expect(refusedType(makeData({ type: new DateMillisecond(), length: 4, data: POSITIONS.slice(), nullCount: 0 }), four(1, 2, 3, 4), TIME)).toEqual(['wrong-type', 'position']);
    expect(refusedType(makeData({ type: new TimestampMillisecond(), length: 4, data: POSITIONS.slice(), nullCount: 0 }), four(1, 2, 3, 4), TIME)).toEqual(['wrong-type', 'position']);
  });

  test('that are missing, unknown or there twice are refused by their name', () => {
    const named = (...names: string[]): Uint8Array => arrowStream(names.map((name) => ({ name, batches: [name === 'position' ? int64s(POSITIONS) : four(1, 2, 3, 4)] })));
    expect(refusalOf(named('position', 'thickness'))).toMatchObject({ code: 'wrong-columns', field: 'wall' });
    expect(refusalOf(named('position', 'wall', 'extra'))).toMatchObject({ code: 'wrong-columns', field: 'extra', limit: 'position, wall' });
    expect(refusalOf(named('position', 'wall', 'wall'))).toMatchObject({ code: 'wrong-columns', field: 'wall', message: expect.stringMatching(/more than once/) });
  });

  test('are given in the order of the shape', () => {
    const bytes = arrowStream([{ name: 'b', batches: [four(1, 1, 1, 1)] }, { name: 'position', batches: [int64s(POSITIONS)] }, { name: 'a', batches: [four(2, 2, 2, 2)] }]);
    const { columns } = decodePart(bytes, shapeOf({ columns: [{ name: 'a', rules: NO_RULES }, { name: 'b', rules: NO_RULES }] }));
    expect(columns.map(({ name, values }) => [name, values[0]])).toEqual([['a', 2], ['b', 1]]);
  });
});

describe('a whole part', () => {
  test('has samples, and no more than the limit', () => {
    expect(refusalOf(streamOf(int64s(new BigInt64Array(0)), four()))).toMatchObject({ code: 'empty' });
    expect(refusalOf(streamOf(int64s(POSITIONS)), shapeOf({ limits: { maxRows: 3 } }))).toMatchObject({ code: 'too-many-rows', limit: '3' });
    expect(refusalOf(streamOf(int64s(POSITIONS)), shapeOf({ limits: { maxDecodedBytes: 100 } }))).toMatchObject({ code: 'too-large', limit: '100' });
  });

  test('is refused when it is the file format, or cut, or goes on after its end', () => {
    const bytes = streamOf(int64s(POSITIONS));
    expect(refusalOf(Buffer.concat([Buffer.from('ARROW1\0\0'), bytes]))).toMatchObject({ code: 'unsupported' });
    expect(refusalOf(bytes.subarray(0, bytes.length - 8))).toMatchObject({ code: 'truncated', message: expect.stringMatching(/end-of-stream/) });
    expect(refusalOf(Buffer.concat([bytes, Buffer.alloc(8)]))).toMatchObject({ code: 'malformed' });
    expect(refusalOf(new Uint8Array(0))).toMatchObject({ code: 'truncated' });
  });

  test('needs a shape that can be', () => {
    const bytes = streamOf(int64s(POSITIONS));
    expect(() => decodePart(bytes, shapeOf({ columns: [] }))).toThrow(RangeError);
    expect(() => decodePart(bytes, shapeOf({ columns: [{ name: 'position', rules: NO_RULES }] }))).toThrow(RangeError);
    expect(() => decodePart(bytes, counter(7))).toThrow(RangeError);
  });
});
