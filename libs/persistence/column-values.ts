import { IntervalSet, type Interval } from '#libs/intervals';
import type { EntityMetadata } from 'typeorm';

type ColumnMetadata = EntityMetadata['columns'][number];

/**
 * Between PostgreSQL's text and the values that entities hold. The drivers' own conversions lose microseconds
 * (`timestamptz`), digits (`numeric`) and days (`date`), so every value passes here instead:
 * timestamptz → Instant text, numeric → decimal text, int8 → safe integer, int8range → Interval,
 * int8multirange → Interval[], tstzrange → TimeSpan, jsonb → parsed, the rest as pg gives it.
 */
export interface TimeSpan {
  readonly from: string;
  /** Null while it has no end. */
  readonly until: string | null;
}

export type Convert = (value: unknown) => unknown;

const RANGE = /^([[(])(-?\d+),(-?\d+)([\])])$/;
const TIME_RANGE = /^[[(]"([^"]+)",(?:"([^"]+)")?[\])]$/;

/** `2026-03-01 07:15:00.5+00`, as a session in UTC prints it, to the normal spelling of an instant. */
export function instantFromDatabase(text: string): string {
  const seconds = text.slice(0, 19).replace(' ', 'T');
  const rest = text.slice(19);
  const fraction = rest.startsWith('.') ? rest.slice(1, rest.indexOf('+')) : '';
  return `${seconds}.${fraction.padEnd(6, '0')}Z`;
}

function rangeFromDatabase(text: string): Interval {
  const match = RANGE.exec(text);
  if (match === null) throw new RangeError(`not a bounded int8range: ${text}`);
  return { fromMm: safeInteger(match[2] ?? ''), toMm: safeInteger(match[3] ?? '') };
}

function timeRangeFromDatabase(text: string): TimeSpan {
  const match = TIME_RANGE.exec(text);
  if (match?.[1] === undefined) throw new RangeError(`not a tstzrange with a start: ${text}`);
  return { from: instantFromDatabase(match[1]), until: match[2] === undefined ? null : instantFromDatabase(match[2]) };
}

function safeInteger(text: string): number {
  const value = Number(text);
  if (!Number.isSafeInteger(value)) throw new RangeError(`beyond the exact integers: ${text}`);
  return value;
}

const FROM_DATABASE: Readonly<Record<string, Convert>> = {
  timestamptz: (value) => instantFromDatabase(value as string),
  int8: (value) => safeInteger(value as string),
  int8range: (value) => rangeFromDatabase(value as string),
  int8multirange: (value) => IntervalSet.parseMultirange(value as string).intervals,
  tstzrange: (value) => timeRangeFromDatabase(value as string),
  jsonb: (value) => (typeof value === 'string' ? (JSON.parse(value) as unknown) : value),
};

const TO_DATABASE: Readonly<Record<string, Convert>> = {
  int8range: (value) => `[${(value as Interval).fromMm},${(value as Interval).toMm})`,
  int8multirange: (value) => IntervalSet.from(value as Interval[]).toMultirange(),
  tstzrange: (value) => `["${(value as TimeSpan).from}",${quoted((value as TimeSpan).until)})`,
  jsonb: (value) => JSON.stringify(value),
};

function quoted(text: string | null): string {
  return text === null ? '' : `"${text}"`;
}

function converter(table: Readonly<Record<string, Convert>>, column: ColumnMetadata): Convert | undefined {
  return column.isArray ? undefined : table[String(column.type)];
}

const orNull =
  (convert: Convert | undefined): Convert =>
  (value) =>
    value === null || value === undefined ? null : convert === undefined ? value : convert(value);

/** What turns a value of this column, as pg hands it over, into the entity's property. */
export const readerOf = (column: ColumnMetadata): Convert => orNull(converter(FROM_DATABASE, column));

/** What turns the entity's property of this column into a query parameter. */
export const writerOf = (column: ColumnMetadata): Convert => orNull(converter(TO_DATABASE, column));
