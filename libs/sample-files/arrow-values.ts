import { bitsOf, NO_VALUE_BITS } from '#libs/signals';
import type { ArrowColumn } from './arrow-layout.js';
import { asBigInts, asFloats, asIntegers } from './arrow-numbers.js';
import { nearestSingle } from './nearest-single.js';

const { fround } = Math;

/**
 * The values of a column into as many places; of nulls, whatever lies there. Answers how many of the others are kept as
 * another number than they were sent. A NaN of double precision is kept as `NO_VALUE_BITS`: its bits are no float32's.
 */
export function readValues(column: ArrowColumn, values: Float32Array): number {
  const { type } = column.field;
  if (type.kind === 'float32') {
    new Uint8Array(values.buffer, values.byteOffset, values.byteLength).set(column.data.subarray(0, values.byteLength));
    return 0;
  }
  if (type.kind === 'float64') return narrowFloats(asFloats(column.data, values.length), values, column.validity);
  if (type.kind === 'int') return type.bytes === 8
    ? narrowBigInts(asBigInts(column.data, values.length, type.signed), values, column.validity)
    : narrowIntegers(asIntegers(column.data, values.length, type), values, column.validity);
  throw new TypeError(`values of a ${type.kind}`);
}

const isThere = (validity: Uint8Array | null, index: number): boolean => validity === null || ((validity[index >> 3] as number) & (1 << (index & 7))) !== 0;

function narrowFloats(sent: Float64Array, values: Float32Array, validity: Uint8Array | null): number {
  let narrowed = narrowIntegers(sent, values, validity);
  const bits = bitsOf(values);
  for (let index = 0; index < sent.length; index += 1) {
    const value = sent[index] as number;
    if (value === value) continue;
    bits[index] = NO_VALUE_BITS;
    if (isThere(validity, index)) narrowed -= 1; // A NaN differs from itself, and is no number that became another.
  }
  return narrowed;
}

function narrowIntegers(sent: Float64Array | IntegerArray, values: Float32Array, validity: Uint8Array | null): number {
  let narrowed = 0;
  for (let index = 0; index < sent.length; index += 1) {
    const value = sent[index] as number;
    values[index] = value;
    if (fround(value) !== value && isThere(validity, index)) narrowed += 1;
  }
  return narrowed;
}

function narrowBigInts(sent: BigInt64Array | BigUint64Array, values: Float32Array, validity: Uint8Array | null): number {
  let narrowed = 0;
  for (let index = 0; index < sent.length; index += 1) {
    const value = sent[index] as bigint;
    const double = Number(value);
    const single = nearestSingle(double, () => compare(value, BigInt(double)));
    values[index] = single;
    if (BigInt(single) !== value && isThere(validity, index)) narrowed += 1;
  }
  return narrowed;
}

const compare = (a: bigint, b: bigint): number => Number(a > b) - Number(a < b);
type IntegerArray = ReturnType<typeof asIntegers>;
