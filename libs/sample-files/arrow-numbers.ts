/*
 * Views of a buffer's bytes as numbers, without copying where the bytes lie aligned. Arrow is little-endian, as are the
 * machines that Node runs on.
 */

type IntegerArray = Int8Array | Int16Array | Int32Array | Uint8Array | Uint16Array | Uint32Array;

interface ViewOf<T> {
  readonly BYTES_PER_ELEMENT: number;
  new (buffer: ArrayBufferLike, byteOffset: number, length: number): T;
}

function viewOf<T>(kind: ViewOf<T>, bytes: Uint8Array, count: number): T {
  const isAligned = bytes.byteOffset % kind.BYTES_PER_ELEMENT === 0;
  const { buffer, byteOffset } = isAligned ? bytes : Uint8Array.from(bytes);
  return new kind(buffer, byteOffset, count);
}

const SIGNED: Readonly<Record<number, ViewOf<IntegerArray>>> = { 1: Int8Array, 2: Int16Array, 4: Int32Array };
const UNSIGNED: Readonly<Record<number, ViewOf<IntegerArray>>> = { 1: Uint8Array, 2: Uint16Array, 4: Uint32Array };

export const asFloats = (bytes: Uint8Array, count: number): Float64Array => viewOf(Float64Array, bytes, count);

/** Integers of up to 32 bits. */
export const asIntegers = (bytes: Uint8Array, count: number, type: { readonly bytes: number; readonly signed: boolean }): IntegerArray =>
  viewOf((type.signed ? SIGNED : UNSIGNED)[type.bytes] as ViewOf<IntegerArray>, bytes, count);

/** Integers of 64 bits. */
export const asBigInts = (bytes: Uint8Array, count: number, signed: boolean): BigInt64Array | BigUint64Array =>
  signed ? viewOf<BigInt64Array>(BigInt64Array, bytes, count) : viewOf<BigUint64Array>(BigUint64Array, bytes, count);

export const asWords = (bytes: Uint8Array, count: number): Uint32Array => viewOf(Uint32Array, bytes, count);
