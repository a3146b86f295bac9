import { BlockError } from './block-error.js';
import type { ByteWriter } from './bytes.js';
import { crc32c } from './crc32c.js';

/*
 * What stored bytes begin and end with, whatever is in them: two letters for what they are, the version of the format, flags, a
 * count (2 bytes), the length of all (4 bytes); at the end the CRC-32C of everything before it (4 bytes). Little end first.
 */

export const FORMAT_VERSION = 1;
export const HEAD_BYTES = 10;
export const CHECK_BYTES = 4;
const LENGTH_AT = 6;

export function writeHead(writer: ByteWriter, letters: string, flags: number, count: number): void {
  writer.byte(letters.charCodeAt(0));
  writer.byte(letters.charCodeAt(1));
  writer.byte(FORMAT_VERSION);
  writer.byte(flags);
  writer.u16(count);
  writer.u32(0);
}

/** All that was written after `writeHead`, with its length and checksum. */
export function seal(writer: ByteWriter): Uint8Array {
  writer.setU32(LENGTH_AT, writer.length + CHECK_BYTES);
  writer.u32(crc32c(writer.soFar()));
  return writer.written();
}

/**
 * The flags and the count of sealed bytes.
 * @throws BlockError 'not-a-block', 'unknown-version', 'wrong-length' or 'wrong-checksum'
 */
export function openSeal(bytes: Uint8Array, letters: string): { flags: number; count: number } {
  if (bytes.length < HEAD_BYTES + CHECK_BYTES) throw new BlockError('wrong-length', `${bytes.length} bytes are too few to be stored signals`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const begins = String.fromCharCode(view.getUint8(0), view.getUint8(1));
  if (begins !== letters) throw new BlockError('not-a-block', `stored bytes do not begin with "${letters}"`);
  const version = view.getUint8(2);
  if (version !== FORMAT_VERSION) throw new BlockError('unknown-version', `format version ${version} is not known here; ${FORMAT_VERSION} is`);
  const length = view.getUint32(LENGTH_AT, true);
  if (length !== bytes.length) throw new BlockError('wrong-length', `${bytes.length} bytes where ${length} were stored`);
  const end = bytes.length - CHECK_BYTES;
  const [stored, found] = [view.getUint32(end, true), crc32c(bytes.subarray(0, end))];
  if (stored !== found) throw new BlockError('wrong-checksum', `checksum ${hex(found)} where ${hex(stored)} was stored`);
  return { flags: view.getUint8(3), count: view.getUint16(4, true) };
}

const hex = (value: number): string => value.toString(16).padStart(8, '0');
