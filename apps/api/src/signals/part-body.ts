import { createHash } from 'node:crypto';
import type { Readable } from 'node:stream';
import { Refused } from '../http/problem.js';

/** Most bytes of a part as it is sent; our own choice. With it a part is read whole, and the memory of the program stays flat. */
export const MOST_PART_BYTES = 16 * 1024 * 1024;

/** The bytes of a body. Refuses with 413 what is too large, with 400 what does not have the digest; neither is read further than needed. */
export async function partBody(body: Readable, sha256: string): Promise<Uint8Array<ArrayBuffer>> {
  const hash = createHash('sha256');
  const pieces: Buffer[] = [];
  let length = 0;
  for await (const piece of body as AsyncIterable<Buffer>) {
    length += piece.length;
    if (length > MOST_PART_BYTES) {
      throw new Refused(413, 'too-large', `A part has at most ${MOST_PART_BYTES} bytes.`, [{ field: 'body', value: `more than ${MOST_PART_BYTES} bytes`, limit: `${MOST_PART_BYTES} bytes` }]);
    }
    hash.update(piece);
    pieces.push(piece);
  }
  const found = hash.digest('hex');
  if (found !== sha256) {
    throw new Refused(400, 'wrong-digest', 'The bytes are not the ones that Content-Digest stands for. Nothing was taken: send the part again.', [
      { field: 'Content-Digest', value: sha256, limit: `${found}, the SHA-256 of the ${length} bytes that came` },
    ]);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
