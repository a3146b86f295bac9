import { createHash, randomUUID } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { Transform, type Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { Refused } from '../http/problem.js';
import { OPENING_BYTES } from './media-type.js';

/** What was sent, on disk until it is disposed of. */
export interface Spooled {
  readonly sha256: string;
  readonly sizeBytes: number;
  /** The first `OPENING_BYTES`, by which a format is known. */
  readonly opening: Buffer;
  /** Its bytes in parts of at most `partBytes`. */
  parts(partBytes: number): AsyncIterable<Buffer>;
  dispose(): Promise<void>;
}

/** No file is on its way for so long: what is older was left by a process that was killed. */
const STALE_MS = 86_400_000;

/** Where this user's files are while they are on their way. */
export const SPOOL_FOLDER = join(tmpdir(), `everymetre-spool-${userInfo().username}`);

let swept: Promise<void> | null = null;

/** Rids a folder of what a killed process left there longer than a day ago. */
export async function sweep(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const left = join(folder, name);
    const ageMs = await stat(left).then(({ mtimeMs }) => Date.now() - mtimeMs, () => 0);
    if (ageMs > STALE_MS) await rm(left, { force: true }).catch(() => undefined);
  }
}

/**
 * Writes a body to a temporary file as it comes, in constant memory, with its SHA-256. Refuses with 413 as soon as it is
 * larger than `limitBytes`, with 400 when it is empty; nothing is left behind then.
 */
export async function spool(body: Readable, limitBytes: number): Promise<Spooled> {
  await mkdir(SPOOL_FOLDER, { recursive: true, mode: 0o700 });
  await (swept ??= sweep(SPOOL_FOLDER));
  const path = join(SPOOL_FOLDER, `${process.pid}-${randomUUID()}`);
  const hash = createHash('sha256');
  let sizeBytes = 0;
  let opening = Buffer.alloc(0);
  const measure = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      sizeBytes += chunk.length;
      if (sizeBytes > limitBytes) {
        done(new Refused(413, 'too-large', `A file of at most ${limitBytes} bytes is taken here.`));
        return;
      }
      if (opening.length < OPENING_BYTES) opening = Buffer.concat([opening, chunk.subarray(0, OPENING_BYTES - opening.length)]);
      hash.update(chunk);
      done(null, chunk);
    },
  });
  const dispose = (): Promise<void> => rm(path, { force: true });
  try {
    await pipeline(body, measure, createWriteStream(path, { mode: 0o600 }));
    if (sizeBytes === 0) throw new Refused(400, 'malformed', 'The body is empty: send the bytes of the file.');
  } catch (error) {
    await dispose();
    throw isCutOff(error) ? new Refused(400, 'malformed', 'The connection ended before the file did: send it again.') : error;
  }
  return {
    sha256: hash.digest('hex'), sizeBytes, opening, dispose,
    parts: (partBytes) => createReadStream(path, { highWaterMark: partBytes }),
  };
}

/** Whether the sender went away: nobody's fault here. */
function isCutOff(error: unknown): boolean {
  const code = error instanceof Error && 'code' in error ? error.code : null;
  return code === 'ECONNRESET' || code === 'ERR_STREAM_PREMATURE_CLOSE';
}
