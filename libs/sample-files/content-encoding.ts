import * as zlib from 'node:zlib';
import { PartError } from './part-error.js';
import type { PartEncoding } from './part.js';

/** What Node's decompressors answer with `info: true`. */
interface Decompressed {
  readonly buffer: Uint8Array;
  readonly engine: { readonly bytesWritten: number };
}

type Decompress = (bytes: Uint8Array, options: { readonly maxOutputLength: number; readonly info: true }) => Decompressed;

/** Node has zstd from version 22.15 on. */
const { gunzipSync, inflateSync, brotliDecompressSync, zstdDecompressSync } = zlib as unknown as Readonly<Record<string, Decompress | undefined>>;
const DECOMPRESS: Readonly<Record<Exclude<PartEncoding, 'identity'>, Decompress | undefined>> = {
  gzip: gunzipSync, deflate: inflateSync, br: brotliDecompressSync, zstd: zstdDecompressSync,
};

/** The encodings that this program can undo on the Node that runs it. */
export const PART_ENCODINGS: readonly PartEncoding[] = (['identity', 'gzip', 'deflate', 'br', 'zstd'] as const)
  .filter((encoding) => encoding === 'identity' || DECOMPRESS[encoding] !== undefined);

/**
 * The content of an encoded part (RFC 9110 §8.4.1; deflate is zlib's format, as there). Decompression stops at the limit.
 * @throws PartError `encoding-unavailable`, `not-decompressible` or `too-large`
 */
export function decompressed(bytes: Uint8Array, encoding: PartEncoding, maxDecodedBytes: number): Uint8Array {
  if (encoding === 'identity') {
    if (bytes.length > maxDecodedBytes) throw tooLarge(maxDecodedBytes);
    return bytes;
  }
  const decompress = DECOMPRESS[encoding];
  if (decompress === undefined) {
    const known = PART_ENCODINGS.join(', ');
    throw new PartError('encoding-unavailable', `${encoding} cannot be undone here; send ${known}`, { value: encoding, limit: known });
  }
  const { buffer, engine } = undone(bytes, encoding, decompress, maxDecodedBytes);
  if (engine.bytesWritten !== bytes.length) {
    throw new PartError('not-decompressible', `${bytes.length - engine.bytesWritten} bytes follow the end of the ${encoding} content`, { value: encoding });
  }
  return buffer;
}

function undone(bytes: Uint8Array, encoding: PartEncoding, decompress: Decompress, maxDecodedBytes: number): Decompressed {
  try {
    return decompress(bytes, { maxOutputLength: maxDecodedBytes, info: true });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ERR_BUFFER_TOO_LARGE') throw tooLarge(maxDecodedBytes);
    throw new PartError('not-decompressible', `the bytes are not ${encoding}: ${(error as Error).message}`, { value: encoding });
  }
}

const tooLarge = (limit: number): PartError => new PartError('too-large', `a part has at most ${limit} bytes once decompressed`, { limit: String(limit) });
