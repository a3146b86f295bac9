import { createHash, type Hash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open, type FileHandle } from 'node:fs/promises';
import { dirname } from 'node:path';
import { StartFailure } from '../start/start-failure.js';

/*
 * A file of the samples of one string: a line of JSON, the rows of `signal_block` as PostgreSQL's COPY writes them in its binary
 * format, and a line with the SHA-256 of all before it. It needs nothing beside it to be checked.
 */

/** The first line. */
export interface SignalFileHead {
  readonly format: typeof FORMAT;
  readonly version: number;
  readonly stringId: string;
  /** Rows of `signal_block`. */
  readonly rows: number;
}

/** A file that was read from its first byte to its last and found whole. */
export interface SignalFile {
  readonly path: string;
  readonly head: SignalFileHead;
  /** Of the whole file, as any program for SHA-256 tells it: 64 hexadecimal digits. */
  readonly sha256: string;
  readonly sizeBytes: number;
  /** Where the rows begin and end, bytes. */
  readonly rowsFrom: number;
  readonly rowsTo: number;
  /** What the last line says. */
  readonly sum: string;
}

const FORMAT = 'everymetre-signals';
const VERSION = 1;
const LAST_LINE = /^\nsha256 ([0-9a-f]{64})\n$/;
const LAST_LINE_BYTES = 73;
const LONGEST_HEAD_BYTES = 4096;
const PIECE_BYTES = 1024 * 1024;

/** Writes a new file and brings it to the disk. Gives the SHA-256 of the whole. The rows are asked for once the file is open. Throws StartFailure where there is a file already. */
export async function writeSignalFile(path: string, head: Pick<SignalFileHead, 'stringId' | 'rows'>, rows: () => AsyncIterable<Uint8Array>): Promise<string> {
  const file = await newFile(path);
  const [sum, whole] = [createHash('sha256'), createHash('sha256')];
  const put = async (bytes: Uint8Array, sums: readonly Hash[]): Promise<void> => {
    for (const one of sums) one.update(bytes);
    await file.appendFile(bytes);
  };
  try {
    await put(Buffer.from(`${JSON.stringify({ format: FORMAT, version: VERSION, ...head })}\n`), [sum, whole]);
    for await (const piece of rows()) await put(piece, [sum, whole]);
    await put(Buffer.from(`\nsha256 ${sum.digest('hex')}\n`), [whole]);
    await file.sync();
  } finally {
    await file.close();
  }
  await bringNameToDisk(path);
  return whole.digest('hex');
}

/** Reads a file whole, in pieces. Throws StartFailure where it is none of signals, damaged, or not there. */
export async function readSignalFile(path: string): Promise<SignalFile> {
  const file = await open(path, 'r').catch((error: unknown) => { throw new StartFailure(`${path} cannot be read: ${saidBy(error)}.`); });
  try {
    const { size: sizeBytes } = await file.stat();
    const { head, rowsFrom } = await headOf(file, path);
    const rowsTo = sizeBytes - LAST_LINE_BYTES;
    const sum = LAST_LINE.exec((await bytesOf(file, Math.max(rowsTo, 0), LAST_LINE_BYTES)).toString('latin1'))?.[1];
    if (sum === undefined || rowsTo < rowsFrom) throw new StartFailure(`${path} is not whole: it does not end with its sum.`);
    const [before, whole] = [createHash('sha256'), createHash('sha256')];
    let at = 0;
    for await (const piece of createReadStream(path, { highWaterMark: PIECE_BYTES }) as AsyncIterable<Buffer>) {
      whole.update(piece);
      before.update(piece.subarray(0, Math.max(rowsTo - at, 0)));
      at += piece.length;
    }
    if (at !== sizeBytes || before.digest('hex') !== sum) throw new StartFailure(`${path} is damaged: its content has another SHA-256 than its last line says.`);
    return { path, head, sha256: whole.digest('hex'), sizeBytes, rowsFrom, rowsTo, sum };
  } finally {
    await file.close();
  }
}

/** The rows of a file in pieces. Throws StartFailure at their end where they are others than when it was checked. */
export async function* rowsOf({ path, rowsFrom, rowsTo, sum }: SignalFile): AsyncGenerator<Buffer> {
  const again = createHash('sha256');
  let at = 0;
  for await (const piece of createReadStream(path, { end: rowsTo - 1, highWaterMark: PIECE_BYTES }) as AsyncIterable<Buffer>) {
    again.update(piece);
    const own = piece.subarray(Math.max(rowsFrom - at, 0));
    at += piece.length;
    if (own.length > 0) yield own;
  }
  if (again.digest('hex') !== sum) throw new StartFailure(`${path} changed while it was read.`);
}

async function newFile(path: string): Promise<FileHandle> {
  try {
    return await open(path, 'wx', 0o600);
  } catch (error) {
    const isThere = (error as { code?: unknown }).code === 'EEXIST';
    throw new StartFailure(isThere ? `${path} is there already: name a new file, since nothing is written over.` : `${path} cannot be written: ${saidBy(error)}.`);
  }
}

/** After it the file is found under its name even if the power fails. */
async function bringNameToDisk(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const folder = await open(dirname(path), 'r');
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

async function headOf(file: FileHandle, path: string): Promise<{ head: SignalFileHead; rowsFrom: number }> {
  const start = await bytesOf(file, 0, LONGEST_HEAD_BYTES);
  const end = start.indexOf(0x0a);
  const head = end < 0 ? null : parsedHead(start.subarray(0, end).toString('utf8'));
  if (head === null) throw new StartFailure(`${path} is no file of signals: its first line does not say so.`);
  if (head.version !== VERSION) throw new StartFailure(`${path} has version ${String(head.version)} of the format; this program reads ${VERSION}.`);
  return { head, rowsFrom: end + 1 };
}

function parsedHead(line: string): SignalFileHead | null {
  try {
    const head = JSON.parse(line) as SignalFileHead | null;
    return head?.format === FORMAT ? head : null;
  } catch {
    return null;
  }
}

async function bytesOf(file: FileHandle, from: number, length: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, from);
  return buffer.subarray(0, bytesRead);
}

const saidBy = (error: unknown): string => (error instanceof Error ? error.message : String(error));
