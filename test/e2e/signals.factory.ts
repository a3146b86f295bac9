import { createHash } from 'node:crypto';
import { expect } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Answer, Method } from '../setup/api.js';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import type { Fields } from './line.factory.js';

type Post = (path: string, content: Fields) => Promise<Answer>;
type SendAny = (method: Method, path: string, options?: { body?: unknown; headers?: Record<string, string> }) => Promise<Answer>;

/** Samples of one part: counter readings, and the values of each column by its name. */
export interface PartGiven {
  readonly counter: readonly number[];
  readonly values: Readonly<Record<string, readonly number[]>>;
  readonly firstAt: string;
  readonly lastAt: string;
  readonly direction?: 'forward' | 'backward';
}

/** Channels, runs and uploads that are whole but for what a test changes. */
export const channel = (stringId: string, name: string, changes: Fields = {}): Fields => ({
  stringId, observedAt: '2026-03-02T05:20:00Z', name, measures: 'wall-thickness', unit: 'mm', method: 'UT', technique: null, station: null, zone: 'body', probe: null,
  clockFromDeg: null, clockToDeg: null, sampling: { per: 'length', everyMm: '1' }, threshold: { sense: 'below', level: '4.5' }, required: true, missingValues: ['-999'],
  saturatesAt: { high: null, low: null }, plausible: { from: '0', to: '40' }, stuckAfter: null, noiseFloorLeast: null, speedWindow: null, spliceMarginMm: null, repeats: 'best',
  note: null, ...changes,
});

export const inspectionRun = (stringId: string, channelIds: readonly string[], changes: Fields = {}): Fields => ({
  stringId, observedAt: '2026-03-02T06:00:00Z', endedAt: null, channelIds, settings: [], standardId: null, endReason: null, note: null, ...changes,
});

export const upload = (runId: string, columns: readonly { column: string; channelId: string }[], changes: Fields = {}): Fields => ({
  runId, positionColumn: 'counter', position: 'counter', decimals: 0, columns, ...changes,
});

/** A part as an Arrow stream. */
export const arrowPart = ({ counter, values }: Pick<PartGiven, 'counter' | 'values'>): Uint8Array => arrowStream([
  { name: 'counter', batches: [int64s(BigInt64Array.from(counter.map((one) => BigInt(one))))] },
  ...Object.entries(values).map(([name, own]) => ({ name, batches: [float32s(Float32Array.from(own))] })),
]);

export const digestOfBytes = (bytes: Uint8Array): string => `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`;

/** Opens an upload. Gives its id. */
export async function openUpload(post: Post, content: Fields): Promise<string> {
  const id = uuidv7();
  expect(await post('signal-uploads', { id, ...content })).toMatchObject({ status: 201, body: { id } });
  return id;
}

/** Sends a part and gives the answer. */
export async function sendPart(send: SendAny, uploadId: string, partNo: number, part: PartGiven): Promise<Answer> {
  const bytes = arrowPart(part);
  const { firstAt, lastAt, direction = 'forward' } = part;
  return send('PUT', `/api/signal-uploads/${uploadId}/parts/${partNo}?firstAt=${firstAt}&lastAt=${lastAt}&direction=${direction}`, {
    body: Buffer.from(bytes), headers: { 'content-type': 'application/vnd.apache.arrow.stream', 'content-digest': digestOfBytes(bytes) },
  });
}

/** Whole numbers from one up to, and without, another. */
export const range = (from: number, to: number, step = 1): number[] => Array.from({ length: Math.ceil((to - from) / step) }, (_, index) => from + index * step);
