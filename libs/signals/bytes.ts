import { BlockError } from './block-error.js';

/** Room behind what is written, so that bits can be moved in words of four bytes. */
const SLACK_BYTES = 8;

/** Writes numbers one after another, little end first. Whoever makes it knows how many bytes there can be. */
export class ByteWriter {
  private readonly bytes: Uint8Array;
  private readonly view: DataView;
  private at = 0;

  constructor(capacityBytes: number) {
    this.bytes = new Uint8Array(capacityBytes + SLACK_BYTES);
    this.view = new DataView(this.bytes.buffer);
  }

  get length(): number {
    return this.at;
  }

  /** Begins anew in the same memory. */
  restart(): this {
    this.at = 0;
    return this;
  }

  byte(value: number): void {
    this.bytes[this.at] = value;
    this.at += 1;
  }

  u16(value: number): void {
    this.view.setUint16(this.at, value, true);
    this.at += 2;
  }

  u32(value: number): void {
    this.view.setUint32(this.at, value, true);
    this.at += 4;
  }

  f32(value: number): void {
    this.view.setFloat32(this.at, value, true);
    this.at += 4;
  }

  f64(value: number): void {
    this.view.setFloat64(this.at, value, true);
    this.at += 8;
  }

  /** A whole number from 0 to 2^53 in one to eight bytes, seven bits each, the lowest first (LEB128). */
  count(value: number): void {
    let rest = value;
    while (rest >= 128) {
      this.byte((rest % 128) | 128);
      rest = Math.floor(rest / 128);
    }
    this.byte(rest);
  }

  /** A whole number within ±2^53: its sign apart, so that small ones of either sign are short. */
  signed(value: number): void {
    const negative = value < 0;
    const size = negative ? -(value + 1) : value;
    this.byte((size % 64) * 2 + (negative ? 1 : 0));
    this.count(Math.floor(size / 64));
  }

  append(bytes: Uint8Array): void {
    this.bytes.set(bytes, this.at);
    this.at += bytes.length;
  }

  /**
   * Each value, of which only the lowest `width` bits (1 to 32) are set, without gaps, the last byte filled with zeros. The values are
   * lost: narrow ones are joined two by two while they fit, so that fewer are shifted into their words.
   */
  bits(values: Int32Array, count: number, width: number): void {
    const end = this.at + Math.ceil((count * width) / 8);
    let joined = count;
    let wide = width;
    for (; wide <= 16 && (joined & 1) === 0; wide *= 2) {
      joined >>>= 1;
      for (let index = 0; index < joined; index += 1) values[index] = (values[2 * index] as number) | ((values[2 * index + 1] as number) << wide);
    }
    const { view } = this;
    let byte = this.at;
    let word = 0;
    let filled = 0;
    for (let index = 0; index < joined; index += 1) {
      const value = values[index] as number;
      word |= value << filled;
      filled += wide;
      if (filled < 32) continue;
      view.setInt32(byte, word, true);
      byte += 4;
      filled -= 32;
      // What did not fit; a shift by 32 would be one by 0.
      word = filled === 0 ? 0 : value >>> (wide - filled);
    }
    if (byte < end) view.setInt32(byte, word, true);
    this.at = end;
  }

  /** A copy of what was written. */
  written(): Uint8Array {
    return this.bytes.slice(0, this.at);
  }

  /** Forgets what was written from `at` on. */
  rewind(at: number): void {
    this.at = at;
  }

  /** Forgets what was written from `at` up to, and without, `from`: what comes after it moves there. */
  drop(at: number, from: number): void {
    this.bytes.copyWithin(at, from, this.at);
    this.at -= from - at;
  }

  setU32(at: number, value: number): void {
    this.view.setUint32(at, value, true);
  }

  /** What was written so far, sharing its memory. */
  soFar(): Uint8Array {
    return this.bytes.subarray(0, this.at);
  }
}

/** Reads what a ByteWriter wrote, and throws BlockError 'contradictory' rather than read past the end. */
export class ByteReader {
  private readonly view: DataView;

  /** Reads `bytes` from index `at` up to, and without, `length`. */
  constructor(
    private readonly bytes: Uint8Array,
    private at: number,
    private readonly length: number,
  ) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  byte(): number {
    return this.bytes[this.take(1)] as number;
  }

  u16(): number {
    return this.view.getUint16(this.take(2), true);
  }

  u32(): number {
    return this.view.getUint32(this.take(4), true);
  }

  f32(): number {
    return this.view.getFloat32(this.take(4), true);
  }

  f64(): number {
    return this.view.getFloat64(this.take(8), true);
  }

  count(): number {
    let [value, unit] = [0, 1];
    for (;;) {
      const byte = this.byte();
      value += (byte & 127) * unit;
      if (byte < 128) break;
      unit *= 128;
    }
    this.demand(value <= 2 ** 53, 'a number is too large');
    return value;
  }

  signed(): number {
    const first = this.byte();
    const size = Math.floor(first / 2) % 64 + this.count() * 64;
    return first & 1 ? -size - 1 : size;
  }

  /** `count` values of `width` bits (1 to 32) into the start of `values`. */
  bits(values: Uint32Array, count: number, width: number): void {
    let bit = this.take(Math.ceil((count * width) / 8)) * 8;
    const { view, bytes } = this;
    const mask = width === 32 ? -1 : (1 << width) - 1;
    // Whole words may be read while five bytes are there; what a checksum or a next section holds is masked out.
    const lastWord = bytes.length - 5;
    for (let index = 0; index < count; index += 1, bit += width) {
      const byte = bit >>> 3;
      const shift = bit & 7;
      let value = byte <= lastWord ? view.getUint32(byte, true) >>> shift : this.tail(byte) >>> shift;
      if (shift + width > 32) value |= (bytes[byte + 4] as number) << (32 - shift);
      values[index] = value & mask;
    }
  }

  /** Throws BlockError 'contradictory' with `why` unless `holds`. */
  demand(holds: boolean, why: string): void {
    if (!holds) throw new BlockError('contradictory', `stored bytes contradict themselves: ${why}`);
  }

  end(): void {
    this.demand(this.at === this.length, `${this.length - this.at} bytes are left over`);
  }

  private take(count: number): number {
    const from = this.at;
    this.demand(from + count <= this.length, `${count} bytes are wanted where ${this.length - from} are left`);
    this.at = from + count;
    return from;
  }

  /** Up to four bytes from `byte` to the end, the missing ones zero. */
  private tail(byte: number): number {
    let word = 0;
    for (let index = 0; index < 4; index += 1) word |= (this.bytes[byte + index] ?? 0) << (8 * index);
    return word;
  }
}
