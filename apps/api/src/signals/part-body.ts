import { createHash } from 'node:crypto';
import type { Readable } from 'node:stream';
import { Refused } from '../http/problem.js';
import { freeNow } from '../threads/free-now.js';

/** Most bytes of a part as it is sent; our own choice. With it a part is read whole, and the memory of the program stays flat. */
export const MOST_PART_BYTES = 16 * 1024 * 1024;

/**
 * While its bytes are awaited a part holds memory that others need, and a line that is gone does not say so: in each such time so
 * many bytes have to come, or all that are left. Our own choice; a line of 14 kbit/s is fast enough.
 */
export interface Pace {
  readonly everyMs: number;
  readonly leastBytes: number;
}

const PACE: Pace = { everyMs: 10_000, leastBytes: 16 * 1024 };
/** So long what is still being sent after a refusal is thrown away, so that the sender comes to read why; then the connection ends. */
const LINGER_MS = 5_000;

/** Refuses with 413 a part that is said to be too large, before anything of it is read. Gives the bytes that it may have. */
export function demandedBytes(contentLength: string | undefined): number {
  const declared = contentLength === undefined ? MOST_PART_BYTES : Number(contentLength);
  if (declared > MOST_PART_BYTES) throw tooLarge(declared);
  return declared;
}

/**
 * The bytes of a body, of which there are `mostBytes` at most, as `demandedBytes` gave them. Refuses with 413 what is too large, with 408 what
 * does not come on, with 400 what is cut off or does not have the digest; neither is read further than needed.
 */
export async function partBody(body: Readable, sha256: string, mostBytes: number, pace = PACE): Promise<Uint8Array<ArrayBuffer>> {
  const { bytes, sha256: found } = await readAll(body, mostBytes, pace);
  if (found !== sha256) {
    throw new Refused(400, 'wrong-digest', 'The bytes are not the ones that Content-Digest stands for. Nothing was taken: send the part again.', [
      { field: 'Content-Digest', value: sha256, limit: `${found}, the SHA-256 of the ${bytes.length} bytes that came` },
    ]);
  }
  return bytes;
}

function readAll(body: Readable, mostBytes: number, pace: Pace): Promise<{ bytes: Uint8Array<ArrayBuffer>; sha256: string }> {
  return new Promise((resolve, reject) => {
    // Memory that nothing was written to yet is not resident.
    const room = new Uint8Array(mostBytes);
    const hash = createHash('sha256');
    let [length, seen] = [0, 0];
    const watch = setInterval(() => {
      if (length - seen < pace.leastBytes) refuse(tooSlow(length - seen, pace));
      seen = length;
    }, pace.everyMs);
    const leave = (): void => {
      clearInterval(watch);
      body.off('data', take).off('end', done).off('error', cutOff).off('close', cutOff);
    };
    const refuse = (refusal: Refused): void => {
      leave();
      discard(body);
      reject(refusal);
    };
    const take = (piece: Buffer): void => {
      if (length + piece.length > mostBytes) {
        refuse(tooLarge(`more than ${mostBytes} bytes`));
        return;
      }
      room.set(piece, length);
      hash.update(piece);
      length += piece.length;
      // Of a large part there are dozens, which would be the most of what the collector has to look for.
      if (piece.length === piece.buffer.byteLength) freeNow([piece]);
    };
    const done = (): void => {
      leave();
      resolve({ bytes: room.length === length ? room : room.slice(0, length), sha256: hash.digest('hex') });
    };
    const cutOff = (): void => {
      leave();
      reject(new Refused(400, 'cut-off', 'The connection ended before the part did. Nothing was taken: send it again.'));
    };
    if (body.destroyed) cutOff();
    else body.on('data', take).on('end', done).on('error', cutOff).on('close', cutOff);
  });
}

/** A body that was begun and is not read on holds its connection up. */
function discard(body: Readable): void {
  body.on('error', () => undefined).resume();
  setTimeout(() => { if (!body.readableEnded) body.destroy(); }, LINGER_MS).unref();
}

const tooLarge = (value: unknown): Refused =>
  new Refused(413, 'too-large', `A part has at most ${MOST_PART_BYTES} bytes.`, [{ field: 'body', value, limit: `${MOST_PART_BYTES} bytes` }]);

const tooSlow = (bytes: number, { everyMs, leastBytes }: Pace): Refused =>
  new Refused(408, 'too-slow', 'The part did not come on. Nothing was taken: send it again, or in smaller parts.', [
    { field: 'body', value: `${bytes} bytes in ${everyMs / 1000} s`, limit: `at least ${leastBytes} bytes in ${everyMs / 1000} s` },
  ]);
