import type { Interval } from '#libs/intervals';
import { wholeOf } from '../detections/found-question.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** Levels that are tried in place of those of a rule. */
export interface Trial {
  readonly ruleId: string;
  /** All channels of the rule when null. */
  readonly channelId: string | null;
  /** Decimal text; as in the rule when null. */
  readonly threshold: string | null;
  readonly release: string | null;
}

export interface DifferenceQuestion {
  readonly of: { readonly trial: Trial } | { readonly before: string; readonly after: string };
  /** Only for a trial; null for all. */
  readonly within: Interval | null;
  readonly asKnownAt: string | null;
  readonly limit: number;
}

export const MOST_PLACES = 1000;
const PARAMETERS = ['before', 'after', 'ruleId', 'channelId', 'threshold', 'release', 'fromM', 'toM', 'limit', 'asKnownAt'];
const OF_A_TRIAL = ['channelId', 'threshold', 'release', 'fromM', 'toM'];
const DECIMAL = /^-?\d{1,12}(\.\d{1,9})?$/;
const LONGEST_MM = 100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function differenceQuestionOf(query: Query): DifferenceQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const isTrial = read.has('ruleId');
  for (const field of isTrial ? ['before', 'after'] : OF_A_TRIAL) {
    if (read.has(field)) read.wrong(field, query[field], isTrial ? 'either ruleId, or two detections' : 'only beside ruleId, for a trial');
  }
  const of = isTrial ? { trial: trialOf(read, query) } : { before: needed(read, query, 'before'), after: needed(read, query, 'after') };
  const question = { of, within: withinOf(read), asKnownAt: read.instant('asKnownAt'), limit: wholeOf(read, query, 'limit', { least: 1, most: MOST_PLACES, otherwise: 200 }) };
  read.settle();
  return question;
}

function trialOf(read: QueryReader, query: Query): Trial {
  const [threshold, release] = [decimalOf(read, query, 'threshold'), decimalOf(read, query, 'release')];
  if (!read.has('threshold') && !read.has('release')) read.wrong('threshold', null, 'the threshold or the release level that is tried');
  return { ruleId: read.id('ruleId') ?? '', channelId: read.id('channelId'), threshold, release };
}

function needed(read: QueryReader, query: Query, field: string): string {
  if (!read.has(field)) read.wrong(field, query[field] ?? null, 'a detection; or ruleId, for a trial');
  return read.id(field) ?? '';
}

function decimalOf(read: QueryReader, query: Query, field: string): string | null {
  const text = query[field];
  if (text === undefined) return null;
  if (typeof text === 'string' && DECIMAL.test(text)) return text;
  read.wrong(field, text, 'a decimal number, at most 9 decimals');
  return null;
}

function withinOf(read: QueryReader): Interval | null {
  const [fromMm, toMm] = [read.metres('fromM', 0), read.metres('toM', 0)];
  if (toMm !== null && toMm <= (fromMm ?? 0)) {
    read.wrong('toM', toMm / 1000, 'above fromM: the interval is half-open');
    return null;
  }
  return fromMm === null && toMm === null ? null : { fromMm: fromMm ?? 0, toMm: toMm ?? LONGEST_MM };
}
