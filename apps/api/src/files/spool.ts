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

let spoolFolder: Promise<string> | null = null;

/** The folder of this user's files on their way, rid of those that a killed process left. */
async function sweptFolder(): Promise<string> {
  const folder = join(tmpdir(), `everymetre-spool-${userInfo().username}`);
  await mkdir(folder, { recursive: true, mode: 0o700 });
  for (const name of await readdir(folder)) {
    const left = join(folder, name);
    const age = await stat(left).then(({ mtimeMs }) => Date.now() - mtimeMs, () => 0);
    if (age > STALE_MS) await rm(left, { force: true });
  }
  return folder;
}

/**
 * Writes a body to a temporary file as it comes, in constant memory, with its SHA-256. Refuses with 413 as soon as it is
 * larger than `limitBytes`, with 400 when it is empty; nothing is left behind then.
 */
export async function spool(body: Readable, limitBytes: number): Promise<Spooled> {
  const folder = await (spoolFolder ??= sweptFolder());
  const path = join(folder, randomUUID());
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
    throw error;
  }
  return {
    sha256: hash.digest('hex'), sizeBytes, opening, dispose,
    parts: (partBytes) => createReadStream(path, { highWaterMark: partBytes }),
  };
}
