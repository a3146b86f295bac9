import { PartError } from './part-error.js';

/*
 * Reading of flatbuffers (the metadata of Arrow) in which no offset is trusted: the usual readers check none, and a length
 * with one wrong bit has them make objects until memory ends.
 */

const damaged = (): PartError => new PartError('malformed', 'the metadata of an Arrow message contradicts itself');

/** A vector of structs or offsets: where its first element is, and how many there are; all lie within the buffer. */
export interface FlatVector {
  readonly at: number;
  readonly count: number;
}

/** One table of a flatbuffer. A slot is the number of a field in its schema; what is left out has its default. */
export class FlatTable {
  private readonly vtable: number;
  private readonly vtableBytes: number;

  constructor(
    private readonly view: DataView,
    private readonly at: number,
  ) {
    this.demand(at, 4);
    this.vtable = at - view.getInt32(at, true);
    this.demand(this.vtable, 4);
    this.vtableBytes = view.getUint16(this.vtable, true);
    this.demand(this.vtable, this.vtableBytes);
  }

  static root(view: DataView): FlatTable {
    if (view.byteLength < 4) throw damaged();
    return new FlatTable(view, view.getUint32(0, true));
  }

  private demand(at: number, bytes: number): void {
    if (at < 0 || at + bytes > this.view.byteLength) throw damaged();
  }

  /** Where the field is, or null when it is left out. */
  private field(slot: number, bytes: number): number | null {
    const entry = 4 + 2 * slot;
    const offset = entry + 2 <= this.vtableBytes ? this.view.getUint16(this.vtable + entry, true) : 0;
    if (offset === 0) return null;
    this.demand(this.at + offset, bytes);
    return this.at + offset;
  }

  has(slot: number): boolean {
    return this.field(slot, 1) !== null;
  }

  uint8(slot: number): number {
    const at = this.field(slot, 1);
    return at === null ? 0 : this.view.getUint8(at);
  }

  int16(slot: number): number {
    const at = this.field(slot, 2);
    return at === null ? 0 : this.view.getInt16(at, true);
  }

  int32(slot: number, otherwise = 0): number {
    const at = this.field(slot, 4);
    return at === null ? otherwise : this.view.getInt32(at, true);
  }

  /** A length or count of 64 bits. */
  length(slot: number): number {
    const at = this.field(slot, 8);
    return at === null ? 0 : this.lengthAt(at);
  }

  /** A length or count of 64 bits at a place of the buffer that a vector gave. */
  lengthAt(at: number): number {
    const value = Number(this.view.getBigInt64(at, true));
    if (value < 0 || value > Number.MAX_SAFE_INTEGER) throw damaged();
    return value;
  }

  private pointed(at: number): number {
    const to = at + this.view.getUint32(at, true);
    this.demand(to, 4);
    return to;
  }

  table(slot: number): FlatTable | null {
    const at = this.field(slot, 4);
    return at === null ? null : new FlatTable(this.view, this.pointed(at));
  }

  vector(slot: number, elementBytes: number): FlatVector {
    const field = this.field(slot, 4);
    if (field === null) return { at: 0, count: 0 };
    const at = this.pointed(field);
    const count = this.view.getUint32(at, true);
    this.demand(at + 4, count * elementBytes);
    return { at: at + 4, count };
  }

  /** The table that element `index` of a vector of tables points to. */
  tableOf({ at }: FlatVector, index: number): FlatTable {
    return new FlatTable(this.view, this.pointed(at + 4 * index));
  }

  /** A text, of which at most `most` bytes are taken. */
  text(slot: number, most: number): string | null {
    if (!this.has(slot)) return null;
    const { at, count } = this.vector(slot, 1);
    return new TextDecoder().decode(new Uint8Array(this.view.buffer, this.view.byteOffset + at, Math.min(count, most)));
  }
}
