import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { bitsOf, NO_VALUE_BITS, STATUS } from '#libs/signals';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import type { Random } from '../fixtures/signals.js';
import type { PartRequest } from './part-sender.js';

/** Samples of one channel within a part as they have to be found again. */
export interface SentColumn {
  readonly values: Float32Array;
  readonly statuses: Uint8Array;
}

/** A part as it is sent, and what it has to become. */
export interface SentPart extends PartRequest {
  readonly sha256: string;
  readonly positions: Float64Array;
  readonly columns: readonly SentColumn[];
}

/** How parts of these samples are written. */
export type PartForm = 'arrow' | 'arrow-gzip' | 'csv' | 'csv-gzip' | 'ndjson';

/** What the device sends when it read nothing, and where it saturates: the channels are entered with these rules. */
export const MISSING = -999;
export const SATURATES_AT = 100;

/** Every third channel has figures that only its bits tell apart, every third saturates. */
export const CHANNEL_KINDS = ['thickness', 'bits', 'amplitude'] as const;
export type ChannelKind = (typeof CHANNEL_KINDS)[number];

/** What a channel of a kind says of its readings. */
export const channelOf = (kind: ChannelKind): Record<string, unknown> => ({
  missingValues: kind === 'bits' ? [] : [String(MISSING)], plausible: { from: null, to: null }, required: false,
  saturatesAt: { high: kind === 'amplitude' ? String(SATURATES_AT) : null, low: null },
});

// Looked up once: in a test's own realm every look-up of a global costs as much as the call.
const { min, round, trunc } = Math;
const { isFinite, isNaN } = Number;
const CLOCK_MS = Date.UTC(2026, 2, 2, 6, 10);
const TYPES: Readonly<Record<PartForm, string>> = {
  arrow: 'application/vnd.apache.arrow.stream', 'arrow-gzip': 'application/vnd.apache.arrow.stream', csv: 'text/csv', 'csv-gzip': 'text/csv', ndjson: 'application/x-ndjson',
};

export interface PartOrder {
  readonly uploadId: string;
  readonly partNo: number;
  readonly rows: number;
  readonly form: PartForm;
  readonly kinds: readonly ChannelKind[];
  readonly backward: boolean;
  /** Reading of the counter at its first row. */
  readonly from: number;
}

/** A part with drawn samples: dropouts, bounds, NaNs with payloads, a line that stands still. */
export function drawPart(order: PartOrder, random: Random): SentPart {
  const { rows, form, kinds, backward, from } = order;
  const positions = new Float64Array(rows);
  for (let [row, at] = [0, from]; row < rows; row += 1) {
    positions[row] = at;
    if (random() < 0.95) at += backward ? -1 : 1;
  }
  const drawn = kinds.map((kind) => drawColumn(kind, rows, random, form.startsWith('arrow')));
  const bytes = written(order, positions, drawn);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const [firstAt, lastAt] = [0, 900].map((ms) => new Date(CLOCK_MS + order.partNo * 1000 + ms).toISOString());
  return {
    ...order, bytes, sha256, positions, columns: drawn,
    query: `firstAt=${firstAt}&lastAt=${lastAt}&direction=${backward ? 'backward' : 'forward'}`,
    headers: {
      'content-type': TYPES[form], 'content-digest': `sha-256=:${Buffer.from(sha256, 'hex').toString('base64')}:`, ...(form.endsWith('gzip') ? { 'content-encoding': 'gzip' } : {}),
    },
  };
}

interface DrawnColumn extends SentColumn {
  /** False where nothing is sent. */
  readonly isThere: boolean[];
}

function drawColumn(kind: ChannelKind, rows: number, random: Random, anyBits: boolean): DrawnColumn {
  const [values, statuses] = [new Float32Array(rows), new Uint8Array(rows)];
  const bits = bitsOf(values);
  const isThere = Array.from({ length: rows }, () => true);
  for (let row = 0; row < rows; row += 1) {
    const draw = random();
    if (draw < 0.002) {
      isThere[row] = false;
      bits[row] = NO_VALUE_BITS;
      statuses[row] = STATUS.missing;
    } else if (kind === 'bits' && anyBits) {
      bits[row] = trunc(random() * 2 ** 32);
      statuses[row] = statusOfBits(values[row] as number);
    } else if (draw < 0.005 && kind !== 'bits') {
      values[row] = MISSING;
      statuses[row] = STATUS.missing;
    } else if (kind === 'amplitude') {
      values[row] = min(trunc(random() * 1010) / 10, SATURATES_AT);
      if (values[row] === SATURATES_AT) statuses[row] = STATUS.saturatedHigh;
    } else values[row] = 5 + trunc(random() * 80) / 100;
  }
  return { values, statuses, isThere };
}

/** By the words of the rules: NaN is missing, and an infinity cannot be. */
const statusOfBits = (value: number): number => (isNaN(value) ? STATUS.missing : isFinite(value) ? STATUS.read : STATUS.implausible);

function written({ form }: PartOrder, positions: Float64Array, columns: readonly DrawnColumn[]): Uint8Array {
  const plain = form.startsWith('arrow') ? asArrow(positions, columns) : Buffer.from(form === 'ndjson' ? asLines(positions, columns) : asCsv(positions, columns));
  return form.endsWith('gzip') ? gzipSync(plain, { level: 1 }) : plain;
}

const asArrow = (positions: Float64Array, columns: readonly DrawnColumn[]): Uint8Array => arrowStream([
  { name: 'counter', batches: [int64s(BigInt64Array.from(positions, (position) => BigInt(position)))] },
  ...columns.map(({ values, isThere }, index) => ({ name: `ch${index}`, batches: [float32s(values, isThere)] })),
]);

/** Figures here have two decimals at most, so that these digits say the float32. */
const textOf = ({ values, isThere }: DrawnColumn, row: number): string => (isThere[row] === true ? String(round((values[row] as number) * 100) / 100) : '');

const asCsv = (positions: Float64Array, columns: readonly DrawnColumn[]): string =>
  [['counter', ...columns.map((_, index) => `ch${index}`)], ...Array.from(positions, (position, row) => [String(position), ...columns.map((column) => textOf(column, row))])]
    .map((fields) => `${fields.join(',')}\n`).join('');

const asLines = (positions: Float64Array, columns: readonly DrawnColumn[]): string =>
  Array.from(positions, (position, row) => `{"counter":${position}${columns.map((column, index) => `,"ch${index}":${textOf(column, row) || 'null'}`).join('')}}\n`).join('');
