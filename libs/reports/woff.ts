/**
 * Unpacks a font from the Web Open Font Format, version 1.0 (W3C Recommendation, 2012, sections 3 to 5), into the
 * plain tables it holds. The font reader could read the packed form, but unpacks a table anew for every glyph.
 */
import { inflateSync } from 'node:zlib';

const SIGNATURE = 0x774f4646;
const PACKED_HEADER_BYTES = 44;
const PACKED_ENTRY_BYTES = 20;
const PLAIN_HEADER_BYTES = 12;
const PLAIN_ENTRY_BYTES = 16;

interface Table {
  readonly tag: number;
  readonly checksum: number;
  readonly bytes: Buffer;
}

function readTable(packed: Buffer, index: number): Table {
  const entry = PACKED_HEADER_BYTES + index * PACKED_ENTRY_BYTES;
  const start = packed.readUInt32BE(entry + 4);
  const packedLength = packed.readUInt32BE(entry + 8);
  const plainLength = packed.readUInt32BE(entry + 12);
  const stored = packed.subarray(start, start + packedLength);
  const bytes = packedLength < plainLength ? inflateSync(stored, { maxOutputLength: plainLength }) : stored;
  return { tag: packed.readUInt32BE(entry), checksum: packed.readUInt32BE(entry + 16), bytes };
}

function roundUpToFour(length: number): number {
  return (length + 3) & ~3;
}

/**
 * The font as an SFNT (TrueType or OpenType) file.
 * @throws RangeError when the bytes are not a WOFF 1.0 file.
 */
export function unpackWoff(packed: Buffer): Buffer {
  if (packed.length < PACKED_HEADER_BYTES || packed.readUInt32BE(0) !== SIGNATURE) throw new RangeError('not a WOFF 1.0 file');
  const count = packed.readUInt16BE(12);
  const tables = Array.from({ length: count }, (_, i) => readTable(packed, i));
  const dataStart = PLAIN_HEADER_BYTES + count * PLAIN_ENTRY_BYTES;
  const total = tables.reduce((sum, table) => sum + roundUpToFour(table.bytes.length), dataStart);
  const plain = Buffer.alloc(total);
  const log2 = Math.floor(Math.log2(count));
  plain.writeUInt32BE(packed.readUInt32BE(4), 0);
  plain.writeUInt16BE(count, 4);
  plain.writeUInt16BE(16 * 2 ** log2, 6);
  plain.writeUInt16BE(log2, 8);
  plain.writeUInt16BE(16 * (count - 2 ** log2), 10);
  let start = dataStart;
  tables.forEach(({ tag, checksum, bytes }, i) => {
    const entry = PLAIN_HEADER_BYTES + i * PLAIN_ENTRY_BYTES;
    [tag, checksum, start, bytes.length].forEach((value, field) => plain.writeUInt32BE(value, entry + 4 * field));
    bytes.copy(plain, start);
    start += roundUpToFour(bytes.length);
  });
  return plain;
}
