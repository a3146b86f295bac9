import { createHash } from 'node:crypto';
import { mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { describe, expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { OPENING_BYTES } from './media-type.js';
import { spool, SPOOL_FOLDER, sweep, type Spooled } from './spool.js';

const body = (...chunks: (Buffer | string)[]): Readable => Readable.from(chunks.map((chunk) => Buffer.from(chunk)));
const sha256 = (bytes: Buffer): string => createHash('sha256').update(bytes).digest('hex');

async function partsOf(file: Spooled, partBytes: number): Promise<Buffer[]> {
  const parts: Buffer[] = [];
  for await (const part of file.parts(partBytes)) parts.push(part);
  return parts;
}

/** What a refusal says, and the files of this process that lie there afterwards but did not before. */
async function refusal(work: () => Promise<unknown>): Promise<{ status: number | null; message: string; left: string[] }> {
  const list = async (): Promise<string[]> => (await readdir(SPOOL_FOLDER).catch(() => [])).filter((name) => name.startsWith(`${process.pid}-`));
  const before = await list();
  const error = await work().then(() => null, (reason: unknown) => reason);
  const left = (await list()).filter((name) => !before.includes(name));
  return { status: error instanceof Refused ? error.status : null, message: error instanceof Error ? error.message : '', left };
}

describe('a body', () => {
  test('comes back byte by byte, in parts of at most the size asked for, as often as asked', async () => {
    const bytes = Buffer.from(Array.from({ length: 10_000 }, (_, index) => index % 251));
    const file = await spool(body(bytes.subarray(0, 3), bytes.subarray(3, 5000), bytes.subarray(5000)), bytes.length);
    try {
      expect([file.sizeBytes, file.sha256]).toEqual([bytes.length, sha256(bytes)]);
      for (const partBytes of [4096, 10_000]) {
        const parts = await partsOf(file, partBytes);
        expect(Buffer.concat(parts).equals(bytes)).toBe(true);
        expect(parts.map(({ length }) => length)).toEqual(partBytes === 4096 ? [4096, 4096, 1808] : [10_000]);
      }
    } finally {
      await file.dispose();
    }
  });

  test.each([1, OPENING_BYTES - 1, OPENING_BYTES, OPENING_BYTES + 1, 3 * OPENING_BYTES])('of %i bytes opens with its first ones, however it is cut', async (size) => {
    const bytes = Buffer.alloc(size, 'certificate,');
    const pieces = Array.from({ length: Math.ceil(size / 1000) }, (_, index) => bytes.subarray(index * 1000, (index + 1) * 1000));
    const file = await spool(body(...pieces), size);
    expect(file.opening.equals(bytes.subarray(0, OPENING_BYTES))).toBe(true);
    await file.dispose();
  });

  test('is gone when disposed of, and may be disposed of twice', async () => {
    const file = await spool(body('a'), 1);
    await file.dispose();
    await file.dispose();
    await expect(partsOf(file, 10)).rejects.toThrow('ENOENT');
  });

  test('is refused a byte beyond the limit, and not at it', async () => {
    const file = await spool(body('ab', 'cd'), 4);
    await file.dispose();
    expect(await refusal(() => spool(body('ab', 'cd'), 3))).toEqual({ status: 413, message: 'A file of at most 3 bytes is taken here.', left: [] });
  });

  test('is refused at its first byte too, and nothing is left behind', async () => {
    for (let turn = 0; turn < 50; turn += 1) expect(await refusal(() => spool(body('abcd'), 1))).toMatchObject({ status: 413, left: [] });
  });

  test('that is too large is not read to its end', async () => {
    let read = 0;
    const endless = Readable.from((function* bytes() { for (;;) { read += 1; yield Buffer.alloc(1000); } })());
    expect(await refusal(() => spool(endless, 10_000))).toMatchObject({ status: 413, left: [] });
    expect(read).toBeLessThan(100);
  });

  test('that is empty is refused', async () => {
    expect(await refusal(() => spool(body(), 10))).toEqual({ status: 400, message: 'The body is empty: send the bytes of the file.', left: [] });
  });

  test('that breaks off leaves nothing behind', async () => {
    const broken = Readable.from((async function* bytes() { yield await Promise.resolve(Buffer.from('abc')); throw new Error('aborted'); })());
    expect(await refusal(() => spool(broken, 10))).toEqual({ status: null, message: 'aborted', left: [] });
  });
});

test('what a killed process left a day ago is removed, what is on its way stays', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'everymetre-spool-test-'));
  try {
    const hoursAgo = (hours: number): Date => new Date(Date.now() - hours * 3_600_000);
    for (const [name, hours] of [['stale', 24.1], ['young', 23.9]] as const) {
      await writeFile(join(folder, name), 'a');
      await utimes(join(folder, name), hoursAgo(hours), hoursAgo(hours));
    }
    await sweep(folder);
    expect(await readdir(folder)).toEqual(['young']);
  } finally {
    await rm(folder, { recursive: true });
  }
});

test('a body whose sender goes away is refused as cut off; another failure is passed on', async () => {
  const failing = (code: string): Readable => new Readable({
    read() {
      this.destroy(Object.assign(new Error(code), { code }));
    },
  });
  expect(await refusal(() => spool(failing('ECONNRESET'), 10))).toEqual({ status: 400, message: 'The connection ended before the file did: send it again.', left: [] });
  expect(await refusal(() => spool(failing('EIO'), 10))).toEqual({ status: null, message: 'EIO', left: [] });
});
