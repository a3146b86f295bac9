import { parse } from 'csv-parse/sync';
import { tableFromIPC } from 'apache-arrow';
import { decodePart, NO_RULES, type PartShape, type ReadingRules } from '#libs/sample-files';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import { KINDS, randomFrom } from '../fixtures/signals.js';
import { median } from './load.js';

const ROUNDS = 9;
const SEED = 7;
const BATCH_ROWS = 65_536;
const ARROW_ROWS = 12 * BATCH_ROWS;
const TEXT_ROWS = 200_000;
const CHANNELS = ['wall', 'amplitude', 'power'] as const;
/** Rules under which every sample is looked at and none is marked. */
const RULES: ReadingRules = { missingValues: [-999], saturatesAtHigh: 1e6, saturatesAtLow: -1e6, plausibleFrom: -1e5, plausibleTo: 1e5, stuckAfter: 1_000 };

/** How long decoding took beside the least that could be done with the same bytes. */
export interface PartSpeed {
  readonly what: string;
  readonly beside: string;
  readonly megabytes: number;
  readonly samplesPerSecondM: number;
  /** Time of decoding as times that of the other; median of the rounds. */
  readonly timeRatio: number;
}

const shapeOf = (format: PartShape['format'], rules: ReadingRules): PartShape => ({
  format, encoding: 'identity', direction: 'forward', position: { name: 'position', kind: 'counter', decimals: 0 }, columns: CHANNELS.map((name) => ({ name, rules })),
});

/** A part of three channels, read with every format in this process. */
export function partSpeeds(): PartSpeed[] {
  const columns = CHANNELS.map((_, index) => signalOf(index, ARROW_ROWS));
  const arrow = arrowOf(columns);
  const csv = csvOf(columns);
  const json = jsonOf(columns);
  return [
    compare('Arrow, float32, no rules', 'copying its columns by the Apache reader', arrow, ARROW_ROWS, () => decodePart(arrow, shapeOf('arrow', NO_RULES)), () => copiedColumns(arrow)),
    compare('Arrow, float32, every rule', 'the same', arrow, ARROW_ROWS, () => decodePart(arrow, shapeOf('arrow', RULES)), () => copiedColumns(arrow)),
    compare('CSV, every rule', 'csv-parse alone', csv, TEXT_ROWS, () => decodePart(csv, shapeOf('csv', RULES)), () => parse(Buffer.from(csv))),
    compare('NDJSON, every rule', 'JSON.parse of each line', json, TEXT_ROWS, () => decodePart(json, shapeOf('ndjson', RULES)), () => parsedLines(json)),
  ];
}

function signalOf(kind: number, rows: number): Float32Array {
  const signal = (KINDS[kind] as (typeof KINDS)[number]).signal(randomFrom(SEED + kind));
  return Float32Array.from({ length: rows }, (_, index) => signal(index));
}

function arrowOf(columns: readonly Float32Array[]): Uint8Array {
  const starts = Array.from({ length: ARROW_ROWS / BATCH_ROWS }, (_, batch) => batch * BATCH_ROWS);
  const position = { name: 'position', batches: starts.map((start) => int64s(BigInt64Array.from({ length: BATCH_ROWS }, (_, index) => BigInt(start + index)))) };
  return arrowStream([position, ...columns.map((values, index) => ({ name: CHANNELS[index] as string, batches: starts.map((start) => float32s(values.slice(start, start + BATCH_ROWS))) }))]);
}

const shortOf = (value: number): number => Number(value.toPrecision(6));

function csvOf(columns: readonly Float32Array[]): Uint8Array {
  const lines = Array.from({ length: TEXT_ROWS }, (_, row) => `${row},${columns.map((values) => shortOf(values[row] as number)).join(',')}`);
  return Buffer.from(`position,${CHANNELS.join(',')}\n${lines.join('\n')}\n`);
}

function jsonOf(columns: readonly Float32Array[]): Uint8Array {
  const lines = Array.from({ length: TEXT_ROWS }, (_, row) => JSON.stringify({ position: row, ...Object.fromEntries(columns.map((values, index) => [CHANNELS[index], shortOf(values[row] as number)])) }));
  return Buffer.from(`${lines.join('\n')}\n`);
}

/** The Apache reader gives views of the bytes; a reader that gives memory of its own copies them. */
const copiedColumns = (bytes: Uint8Array): unknown[] => tableFromIPC(bytes).batches.flatMap((batch) => batch.data.children.map(({ values }) => (values as Float32Array).slice()));
const parsedLines = (bytes: Uint8Array): unknown[] => Buffer.from(bytes).toString().trimEnd().split('\n').map((line) => JSON.parse(line) as unknown);

function compare(what: string, beside: string, bytes: Uint8Array, rows: number, decode: () => unknown, bare: () => unknown): PartSpeed {
  const times = Array.from({ length: ROUNDS + 1 }, () => ({ bareMs: elapsedMs(bare), decodeMs: elapsedMs(decode) })).slice(1); // the first round warms up
  return {
    what, beside, megabytes: bytes.length / 1_048_576,
    samplesPerSecondM: (rows * CHANNELS.length) / median(times.map(({ decodeMs }) => decodeMs)) / 1000,
    timeRatio: median(times.map(({ decodeMs, bareMs }) => decodeMs / bareMs)),
  };
}

function elapsedMs(work: () => unknown): number {
  const began = performance.now();
  const made = work();
  const ms = performance.now() - began;
  if (made === undefined) throw new Error('nothing was made');
  return ms;
}
