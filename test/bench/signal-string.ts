import { createHash } from 'node:crypto';
import { Agent, request, type IncomingMessage, type OutgoingHttpHeaders } from 'node:http';
import { text } from 'node:stream/consumers';
import { v7 as uuidv7 } from 'uuid';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import { KINDS, randomFrom } from '../fixtures/signals.js';
import type { Client } from './bench-string.js';

const START_US = Date.parse('2026-03-02T06:00:00Z') * 1000;
/** Ten metres of pipe a minute. */
const US_A_MM = 6_000;
const SEED = 7;
/** Different rows that are made; longer pipe has them again and again, with positions that go on. */
const MADE_ROWS = 1_048_576;
/** Wall and amplitude by turns, as a line has them. */
const CHANNEL_KINDS = [0, 2, 1, 3, 0, 4, 1, 2];
const SHORT_DIGITS = 6;

/** A string with an inspection run under way, one sample a millimetre and channel. */
export interface SignalString {
  readonly stringId: string;
  readonly runId: string;
  readonly channelIds: readonly string[];
  /** Rows of values, as many as `MADE_ROWS`, of each channel. */
  readonly signals: readonly Float32Array[];
}

/** A part as it is sent. */
export interface SentPart {
  readonly type: string;
  readonly bytes: Buffer;
  /** Their Content-Digest. */
  readonly digest: string;
  readonly fromRow: number;
  readonly rows: number;
}

/** Sends JSON and gives the answer's. Throws when it is refused. */
async function send({ url, token }: Client, path: string, body: object): Promise<unknown> {
  const reply = await fetch(`${url}/api/${path}`, { method: 'POST', headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' }, body: JSON.stringify(body) });
  if (!reply.ok) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
  return reply.json();
}

async function entered(client: Client, path: string, body: object): Promise<string> {
  const id = uuidv7();
  await send(client, path, { id, ...body });
  return id;
}

/** Enters a string, its counter, `channels` channels and a run that reads them. */
export async function enterSignalString(client: Client, channels: number): Promise<SignalString> {
  const at = { observedAt: '2026-03-02T05:00:00Z' };
  const wellId = await entered(client, 'wells', { ...at, name: `Signal bench ${uuidv7()}`, datum: 'Guide frame' });
  const stringId = await entered(client, 'casing-strings', {
    ...at, wellId, name: 'Signals', footageLimitMm: 100_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
  });
  await entered(client, 'counter-periods', { ...at, stringId, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0.0005' });
  const channelIds: string[] = [];
  for (let nth = 0; nth < channels; nth += 1) channelIds.push(await entered(client, 'channels', { ...at, stringId, ...channelOf(nth) }));
  const runId = await entered(client, 'inspection-runs', { ...at, stringId, endedAt: null, channelIds, settings: [], standardId: null, endReason: null, note: null });
  return { stringId, runId, channelIds, signals: channelIds.map((_, nth) => signalOf(nth)) };
}

const isWall = (nth: number): boolean => [0, 1].includes(CHANNEL_KINDS[nth % CHANNEL_KINDS.length] ?? 0);
const columnName = (nth: number): string => `c${nth}`;

function channelOf(nth: number): object {
  return {
    name: columnName(nth), technique: null, station: null, zone: 'body', probe: null, clockFromDeg: null, clockToDeg: null, sampling: { per: 'length', everyMm: '1' }, required: true,
    missingValues: ['-999'], stuckAfter: null, noiseFloorLeast: null, speedWindow: null, spliceMarginMm: null, repeats: 'best', note: null, method: isWall(nth) ? 'UT' : 'ET',
    ...(isWall(nth)
      ? { measures: 'wall-thickness', unit: 'mm', threshold: { sense: 'below', level: '4.5' }, saturatesAt: { high: null, low: null }, plausible: { from: '0', to: '40' } }
      : { measures: 'eddy-current-amplitude', unit: '%', threshold: { sense: 'above', level: '50' }, saturatesAt: { high: '100', low: null }, plausible: { from: '-20', to: '120' } }),
  };
}

function signalOf(nth: number): Float32Array {
  const kind = KINDS[CHANNEL_KINDS[nth % CHANNEL_KINDS.length] ?? 0] as (typeof KINDS)[number];
  const signal = kind.signal(randomFrom(SEED + nth));
  return Float32Array.from({ length: MADE_ROWS }, (_, index) => signal(index));
}

/** The values of a channel from a row on, `rows` of them. */
export function valuesFrom(signal: Float32Array, fromRow: number, rows: number): Float32Array {
  const values = new Float32Array(rows);
  for (let at = 0; at < rows;) {
    const from = (fromRow + at) % MADE_ROWS;
    const count = Math.min(rows - at, MADE_ROWS - from);
    values.set(signal.subarray(from, from + count), at);
    at += count;
  }
  return values;
}

/** Opens an upload of all channels. */
export function openUpload(client: Client, { runId, channelIds }: SignalString): Promise<string> {
  const columns = channelIds.map((channelId, nth) => ({ column: columnName(nth), channelId }));
  return entered(client, 'signal-uploads', { runId, positionColumn: 'counter', position: 'counter', decimals: 0, columns });
}

export function arrowPart({ signals }: SignalString, fromRow: number, rows: number): SentPart {
  const counter = BigInt64Array.from({ length: rows }, (_, row) => BigInt(fromRow + row));
  const columns = signals.map((signal, nth) => ({ name: columnName(nth), batches: [float32s(valuesFrom(signal, fromRow, rows))] }));
  return sentPart('application/vnd.apache.arrow.stream', arrowStream([{ name: 'counter', batches: [int64s(counter)] }, ...columns]), fromRow, rows);
}

export function csvPart({ signals }: SignalString, fromRow: number, rows: number): SentPart {
  const columns = signals.map((signal) => valuesFrom(signal, fromRow, rows));
  const lines = Array.from({ length: rows }, (_, row) => `${fromRow + row},${columns.map((values) => Number((values[row] as number).toPrecision(SHORT_DIGITS))).join(',')}`);
  return sentPart('text/csv', Buffer.from(`counter,${signals.map((_, nth) => columnName(nth)).join(',')}\n${lines.join('\n')}\n`), fromRow, rows);
}

const sentPart = (type: string, content: Uint8Array, fromRow: number, rows: number): SentPart => {
  const bytes = Buffer.from(content.buffer, content.byteOffset, content.byteLength);
  return { type, bytes, digest: `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:`, fromRow, rows };
};

const instant = (row: number): string => new Date((START_US + row * US_A_MM) / 1000).toISOString();

const AGENT = new Agent({ keepAlive: true });

/**
 * Sends parts, the first as number `firstNo`, `atOnce` of them at a time. Throws when one is refused. By plain requests: `fetch` copies
 * a body and takes it to pieces, and the sender has the same two cores as the program.
 */
export async function sendParts({ url, token }: Client, uploadId: string, firstNo: number, parts: readonly SentPart[], atOnce: number): Promise<void> {
  let next = 0;
  const sendNext = async (): Promise<void> => {
    for (let nth = next++; nth < parts.length; nth = next++) {
      const { type, bytes, digest, fromRow, rows } = parts[nth] as SentPart;
      const path = `/api/signal-uploads/${uploadId}/parts/${firstNo + nth}?firstAt=${instant(fromRow)}&lastAt=${instant(fromRow + rows - 1)}`;
      await put(url + path, { authorization: `Bearer ${token}`, 'content-type': type, 'content-digest': digest, 'content-length': bytes.length }, bytes);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, sendNext));
}

async function put(url: string, headers: OutgoingHttpHeaders, body: Buffer): Promise<void> {
  const reply = await new Promise<IncomingMessage>((resolve, reject) => {
    request(url, { method: 'PUT', headers, agent: AGENT }, resolve).once('error', reject).end(body);
  });
  const answer = await text(reply);
  if (reply.statusCode !== 200) throw new Error(`${url}: ${reply.statusCode ?? ''} ${answer}`);
}

/** The bytes of an answer, and how long it took, ms. Throws when the question is refused. */
export async function asked({ url, token }: Client, path: string): Promise<{ readonly ms: number; readonly bytes: Buffer }> {
  const began = performance.now();
  const reply = await fetch(`${url}${path}`, { headers: { authorization: `Bearer ${token}` } });
  const bytes = Buffer.from(await reply.arrayBuffer());
  const ms = performance.now() - began;
  if (!reply.ok) throw new Error(`${path}: ${reply.status} ${bytes.toString()}`);
  return { ms, bytes };
}
