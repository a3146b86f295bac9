import { isUuid, isWorkingInstant } from '../http/fields.js';
import { malformed, type FieldProblem } from '../http/problem.js';
import type { Interval } from '#libs/intervals';

/** Which measure an interval is given in. */
export const MEASURES = ['md', 'tvd', 'footage'] as const;
export type Measure = (typeof MEASURES)[number];

/** What is asked about a string: an interval, at a time or shoe depth, as known at a time. */
export interface TraceQuestion {
  readonly by: Measure;
  /** Half-open; a point is one millimetre long. */
  readonly interval: Interval;
  /** The time the inner wall is asked for; the last reading's when neither time nor shoe is given. */
  readonly at: string | null;
  readonly shoeMdMm: number | null;
  readonly asKnownAt: string | null;
  readonly explain: boolean;
}

export type Query = Readonly<Record<string, unknown>>;

const METRES = /^-?\d{1,6}(\.\d{1,3})?$/;
/** Measured depths and footages asked about: 0 to 100 km. */
const LONGEST_MM = 100_000_000;

/** Metres as decimal text, at most to the millimetre, as whole millimetres; null for anything else. */
export function millimetresOf(text: unknown): number | null {
  if (typeof text !== 'string' || !METRES.test(text)) return null;
  const [whole = '', fraction = ''] = text.replace('-', '').split('.');
  const mm = Number(whole) * 1000 + Number(fraction.padEnd(3, '0'));
  return text.startsWith('-') && mm > 0 ? -mm : mm;
}

/** Collects what is wrong with a query, so that all of it is told at once. */
export class QueryReader {
  private readonly problems: FieldProblem[] = [];

  constructor(
    private readonly query: Query,
    known: readonly string[],
  ) {
    for (const [field, value] of Object.entries(query)) {
      if (!known.includes(field)) this.wrong(field, value, `one of the parameters ${known.join(', ')}`);
    }
  }

  wrong(field: string, value: unknown, limit: string): void {
    this.problems.push({ field, value, limit });
  }

  /** Refuses with everything found wrong so far. */
  settle(): void {
    if (this.problems.length > 0) throw malformed(this.problems);
  }

  has(field: string): boolean {
    return this.query[field] !== undefined;
  }

  choice<T extends string>(field: string, of: readonly T[], otherwise: T): T {
    const value = this.query[field] ?? otherwise;
    if (of.includes(value as T)) return value as T;
    this.wrong(field, value, `one of ${of.join(', ')}`);
    return otherwise;
  }

  metres(field: string, minMm: number): number | null {
    if (!this.has(field)) return null;
    const mm = millimetresOf(this.query[field]);
    if (mm !== null && mm >= minMm && mm <= LONGEST_MM) return mm;
    const limit = `metres as decimal text, ${minMm / 1000} to ${LONGEST_MM / 1000}, at most 3 decimals`;
    this.wrong(field, this.query[field], limit);
    return null;
  }

  instant(field: string): string | null {
    const value = this.query[field];
    if (value === undefined) return null;
    if (isWorkingInstant(value)) return value;
    this.wrong(field, value, 'an instant such as 2026-03-01T07:15:00Z');
    return null;
  }

  id(field: string): string | null {
    const value = this.query[field];
    if (value === undefined) return null;
    if (isUuid(value)) return value;
    this.wrong(field, value, 'a UUID in lower case');
    return null;
  }
}

const PARAMETERS = ['by', 'fromM', 'toM', 'at', 'shoeMdM', 'asKnownAt', 'explain'] as const;

/** TVD and MD can lie above the datum; footage cannot. */
const LEAST_MM: Readonly<Record<Measure, number>> = { md: -LONGEST_MM, tvd: -LONGEST_MM, footage: 0 };

/** The question of a query string. Refuses with one entry for each wrong parameter. */
export function traceQuestionOf(query: Query): TraceQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const by = read.choice('by', MEASURES, 'md');
  const fromMm = read.metres('fromM', LEAST_MM[by]);
  const toMm = read.metres('toM', LEAST_MM[by]);
  if (!read.has('fromM')) read.wrong('fromM', null, 'where the interval begins, in metres');
  if (fromMm !== null && toMm !== null && toMm <= fromMm) {
    const word = toMm === fromMm ? 'empty; leave toM away to ask about a point' : 'reversed';
    read.wrong('toM', query['toM'], `above fromM: the interval is ${word}`);
  }
  const at = read.instant('at');
  const shoeMdMm = read.metres('shoeMdM', -LONGEST_MM);
  if (at !== null && shoeMdMm !== null) read.wrong('shoeMdM', query['shoeMdM'], 'either at or shoeMdM');
  const asKnownAt = read.instant('asKnownAt');
  const explain = read.choice('explain', ['true', 'false'], 'false') === 'true';
  read.settle();
  const from = fromMm ?? 0;
  return { by, interval: { fromMm: from, toMm: toMm ?? from + 1 }, at, shoeMdMm, asKnownAt, explain };
}
