import { parse } from 'csv-parse/sync';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { packPart } from '../../apps/api/src/signals/pack-part.js';
import { NO_RULES } from '#libs/sample-files';
import { BLOCK_SAMPLES } from '#libs/signals';
import type { Client } from './bench-string.js';
import { residentMb, type Running } from './processes.js';
import { arrowPart, csvPart, enterSignalString, openUpload, sendParts, valuesFrom, type SentPart, type SignalString } from './signal-string.js';

export const CHANNELS = 8;
const ROWS_A_KM = 1_000_000;
const PART_ROWS = 65_536;
/**
 * Some 8 million samples. Of a window of as few parts as are sent at once a third goes by with the first being awaited and the last being stored, and
 * nothing beside it: a device that goes on sending has that once. And the first 8 million take twice the CPU time, until most loops are compiled.
 */
const PARTS_A_WINDOW = 16;
/** As many as the program takes at once: its packing threads and its one transaction are never idle. */
const AT_ONCE = 4;
const CSV_ROWS = 32_768;
const CSV_WINDOWS = 5;
const SAMPLED_EVERY_MS = 10;

/** What a window of the same samples took one way. */
interface Taken {
  readonly samples: number;
  readonly seconds: number;
}

export interface Speeds {
  /** Samples a second over all windows. */
  readonly program: number;
  readonly bare: number;
  /** Program's over bare's speed; the least and the most of one window beside it. */
  readonly ratio: number;
  readonly least: number;
  readonly most: number;
}

export interface IngestFigures {
  readonly samples: number;
  readonly rawCopy: Speeds;
  readonly packedCopy: Speeds;
  readonly csv: Speeds;
  readonly idleMb: number;
  readonly peakMb: number;
  /** Bytes of the tables, their indexes and their out-of-line values, for each sample. */
  readonly bytesASample: number;
  readonly rawBytesASample: number;
}

async function timed(samples: number, work: () => Promise<void>): Promise<Taken> {
  const began = performance.now();
  await work();
  return { samples, seconds: (performance.now() - began) / 1000 };
}

function speedsOf(bare: readonly Taken[], program: readonly Taken[]): Speeds {
  const rate = (all: readonly Taken[]): number => all.reduce((sum, { samples }) => sum + samples, 0) / all.reduce((sum, { seconds }) => sum + seconds, 0);
  const ratios = program.map((own, nth) => rate([own]) / rate([bare[nth] as Taken]));
  return { program: rate(program), bare: rate(bare), ratio: rate(program) / rate(bare), least: Math.min(...ratios), most: Math.max(...ratios) };
}

/** Watches how much memory a process holds until it is told to stop. */
function memoryWatch(program: Running): () => number {
  let peak = residentMb(program);
  const timer = setInterval(() => { peak = Math.max(peak, residentMb(program)); }, SAMPLED_EVERY_MS);
  return () => {
    clearInterval(timer);
    return peak;
  };
}

/** Sends `kilometres` of eight channels in windows, after one that warms both sides up, by turns with COPY of the same samples; then text beside its parser. */
export async function compareIngest(owner: pg.Client, client: Client, program: Running, kilometres: number): Promise<IngestFigures> {
  await owner.query('create table bare_raw (channel int2, block_no int8, body bytea); alter table bare_raw alter column body set storage external');
  await owner.query('create table bare_packed (like bare_raw including storage)');
  const string = await enterSignalString(client, CHANNELS);
  const idleMb = residentMb(program);
  const peak = memoryWatch(program);
  const uploadId = await openUpload(client, string);
  const windows = windowsOf(PARTS_A_WINDOW * PART_ROWS + kilometres * ROWS_A_KM, PART_ROWS, PARTS_A_WINDOW);
  const [raw, packed, sent]: [Taken[], Taken[], Taken[]] = [[], [], []];
  let partNo = 1;
  for (const window of windows) {
    const parts = window.map(({ fromRow, rows }) => arrowPart(string, fromRow, rows));
    const samples = parts.reduce((sum, { rows }) => sum + rows * CHANNELS, 0);
    const [rawRows, packedRows] = [rawCopy(string, parts), packedCopy(string, parts)];
    raw.push(await timed(samples, () => copyInto(owner, 'bare_raw', rawRows)));
    sent.push(await timed(samples, () => sendParts(client, uploadId, partNo, parts, AT_ONCE)));
    packed.push(await timed(samples, () => copyInto(owner, 'bare_packed', packedRows)));
    partNo += parts.length;
  }
  const samples = sent.reduce((sum, one) => sum + one.samples, 0);
  const [bytesASample, rawBytesASample] = [await tableBytes(owner, ['signal_block', 'signal_part']) / samples, await tableBytes(owner, ['bare_raw']) / samples];
  const csv = await compareCsv(client, string);
  const warm = sent.slice(1);
  return { samples, rawCopy: speedsOf(raw.slice(1), warm), packedCopy: speedsOf(packed.slice(1), warm), csv, idleMb, peakMb: peak(), bytesASample, rawBytesASample };
}

/** Rows as parts, and these as windows. */
function windowsOf(rows: number, partRows: number, parts: number): { fromRow: number; rows: number }[][] {
  const all = Array.from({ length: Math.ceil(rows / partRows) }, (_, nth) => ({ fromRow: nth * partRows, rows: Math.min(partRows, rows - nth * partRows) }));
  return Array.from({ length: Math.ceil(all.length / parts) }, (_, nth) => all.slice(nth * parts, (nth + 1) * parts));
}

async function tableBytes(owner: pg.Client, tables: readonly string[]): Promise<number> {
  const { rows } = await owner.query<{ bytes: string }>('select sum(pg_total_relation_size(name::regclass)) as bytes from unnest($1::text[]) name', [tables]);
  return Number(rows[0]?.bytes);
}

interface CopiedRow {
  readonly channel: number;
  readonly blockNo: number;
  readonly body: Uint8Array;
}

function* rawBlocks({ signals }: SignalString, parts: readonly SentPart[]): Generator<CopiedRow> {
  for (const { fromRow, rows } of parts) {
    for (const [channel, signal] of signals.entries()) {
      const values = valuesFrom(signal, fromRow, rows);
      for (let at = 0; at < rows; at += BLOCK_SAMPLES) {
        const block = values.subarray(at, at + BLOCK_SAMPLES);
        yield { channel, blockNo: Math.floor((fromRow + at) / BLOCK_SAMPLES), body: new Uint8Array(block.buffer, block.byteOffset, block.byteLength) };
      }
    }
  }
}

function* packedBlocks({ signals }: SignalString, parts: readonly SentPart[]): Generator<CopiedRow> {
  const columns = signals.map((_, nth) => ({ name: `c${nth}`, rules: NO_RULES }));
  for (const { bytes, fromRow } of parts) {
    const packed = packPart({
      bytes: new Uint8Array(bytes), shape: { format: 'arrow', encoding: 'identity', direction: 'forward', position: { name: 'counter', kind: 'counter', decimals: 0 }, columns },
    });
    let at = 0;
    for (const [channel, { blocks }] of packed.columns.entries()) {
      for (const { firstIndex, bytes: length } of blocks) {
        yield { channel, blockNo: Math.floor((fromRow + firstIndex) / BLOCK_SAMPLES), body: packed.bodies.subarray(at, at + length) };
        at += length;
      }
    }
  }
}

const rawCopy = (string: SignalString, parts: readonly SentPart[]): Buffer[] => copyBinary(rawBlocks(string, parts));
const packedCopy = (string: SignalString, parts: readonly SentPart[]): Buffer[] => copyBinary(packedBlocks(string, parts));

/** Rows in the format of COPY BINARY (documentation of PostgreSQL, COPY, "Binary Format"), in pieces of about a megabyte. */
function copyBinary(rows: Iterable<CopiedRow>): Buffer[] {
  const head = Buffer.alloc(19);
  head.write('PGCOPY\n\xff\r\n\0', 'latin1');
  const pieces: Buffer[] = [];
  let open: Buffer[] = [head];
  for (const { channel, blockNo, body } of rows) {
    const fixed = Buffer.alloc(24);
    fixed.writeInt16BE(3, 0);
    fixed.writeInt32BE(2, 2);
    fixed.writeInt16BE(channel, 6);
    fixed.writeInt32BE(8, 8);
    fixed.writeBigInt64BE(BigInt(blockNo), 12);
    fixed.writeInt32BE(body.length, 20);
    open.push(fixed, Buffer.from(body));
    if (open.length < 128) continue;
    pieces.push(Buffer.concat(open));
    open = [];
  }
  return [...pieces, Buffer.concat([...open, Buffer.from([0xff, 0xff])])];
}

async function copyInto(owner: pg.Client, table: string, pieces: readonly Buffer[]): Promise<void> {
  const stream = owner.query(copyFrom(`copy ${table} (channel, block_no, body) from stdin (format binary)`));
  const done = new Promise<void>((resolve, reject) => { stream.once('finish', resolve).once('error', reject); });
  for (const piece of pieces) if (!stream.write(piece)) await new Promise((resolve) => stream.once('drain', resolve));
  stream.end();
  await done;
}

/** Text over the network into the store, by turns with csv-parse of the same bytes in this process. */
async function compareCsv(client: Client, string: SignalString): Promise<Speeds> {
  const uploadId = await openUpload(client, string);
  const [parsed, sent]: [Taken[], Taken[]] = [[], []];
  for (let window = 0; window <= CSV_WINDOWS; window += 1) {
    const parts = Array.from({ length: AT_ONCE }, (_, nth) => csvPart(string, (window * AT_ONCE + nth) * CSV_ROWS, CSV_ROWS));
    const samples = parts.length * CSV_ROWS * CHANNELS;
    const bare = await timed(samples, () => { for (const { bytes } of parts) demandRows(parse(Buffer.from(bytes))); return Promise.resolve(); });
    const program = await timed(samples, () => sendParts(client, uploadId, window * AT_ONCE + 1, parts, AT_ONCE));
    if (window === 0) continue; // warms both up
    parsed.push(bare);
    sent.push(program);
  }
  return speedsOf(parsed, sent);
}

function demandRows(rows: readonly unknown[]): void {
  if (rows.length !== CSV_ROWS + 1) throw new Error(`csv-parse read ${rows.length} rows`);
}
