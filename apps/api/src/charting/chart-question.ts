import type { Interval } from '#libs/intervals';
import type { Paper } from '#libs/reports';
import { isPrintable, isUuid } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { PAPERS } from '../reports/report-question.js';
import { AXES, type AxisQuestion } from '../signal-views/signal-view-question.js';
import { millimetresOf, QueryReader, type Query } from '../trace/trace-question.js';
import type { Removal } from './row-places.js';

export const CHARTED_BY = [...AXES, 'coil', 'time'] as const;

/** Which pipe is charted. */
export type ChartedPipe =
  | (Pick<AxisQuestion, 'by' | 'interval' | 'shoeMdMm' | 'at'>)
  | { readonly by: 'coil'; readonly coilId: string }
  /** Pipe welded from one instant to another. */
  | { readonly by: 'time'; readonly from: string; readonly to: string };

export interface ChartQuestion {
  readonly pipe: ChartedPipe;
  /** The id of limits, trial limits from the pipe itself, or those in force where the pipe lies. */
  readonly limits: string;
  /** For trial limits. */
  readonly removal: Removal;
  readonly asKnownAt: string | null;
  readonly paper: Paper;
}

/** What trial limits are asked of. */
export interface TrialQuestion {
  readonly interval: Interval;
  readonly removal: Removal;
}

export const IN_FORCE = 'in-force';
export const TRIAL = 'trial';
const REMOVALS = ['removeM', 'removeLabels'] as const;
const MOST_REMOVED = 200;
const DEEPEST_MM = 100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function chartQuestionOf(query: Query): ChartQuestion {
  const read = new QueryReader(query, ['by', 'fromM', 'toM', 'shoeMdM', 'at', 'coilId', 'fromTime', 'toTime', 'limits', ...REMOVALS, 'asKnownAt', 'paper']);
  const pipe = pipeOf(read, query);
  const limits = limitsOf(read, query);
  const removal = removalOf(read, query);
  if (limits !== TRIAL) for (const field of REMOVALS) if (read.has(field)) read.wrong(field, query[field], `only with limits=${TRIAL}`);
  const question = { pipe, limits, removal, asKnownAt: read.instant('asKnownAt'), paper: read.choice('paper', PAPERS, 'A4') };
  read.settle();
  return question;
}

/** The question of trial limits. Refuses as `chartQuestionOf`. */
export function trialQuestionOf(query: Query): TrialQuestion {
  const read = new QueryReader(query, ['fromM', 'toM', ...REMOVALS]);
  const question = { interval: intervalOf(read, query, 0), removal: removalOf(read, query) };
  read.settle();
  return question;
}

function limitsOf(read: QueryReader, query: Query): string {
  const limits = query['limits'] ?? IN_FORCE;
  if (limits === IN_FORCE || limits === TRIAL || isUuid(limits)) return limits;
  read.wrong('limits', limits, `the id of limits, ${TRIAL} or ${IN_FORCE}`);
  return IN_FORCE;
}

function pipeOf(read: QueryReader, query: Query): ChartedPipe {
  const by = read.choice('by', CHARTED_BY, 'footage');
  const own: Record<(typeof CHARTED_BY)[number], readonly string[]> = {
    footage: ['fromM', 'toM'], outer: ['fromM', 'toM'], inner: ['fromM', 'toM', 'shoeMdM', 'at'], coil: ['coilId'], time: ['fromTime', 'toTime'],
  };
  for (const field of ['fromM', 'toM', 'shoeMdM', 'at', 'coilId', 'fromTime', 'toTime']) {
    if (read.has(field) && !own[by].includes(field)) read.wrong(field, query[field], `nothing with by=${by}`);
  }
  if (by === 'coil') {
    if (!read.has('coilId')) read.wrong('coilId', null, 'the id of a coil');
    return { by, coilId: read.id('coilId') ?? '' };
  }
  return by === 'time' ? timeOf(read, query) : axisOf(read, query, by);
}

function timeOf(read: QueryReader, query: Query): ChartedPipe {
  for (const field of ['fromTime', 'toTime']) if (!read.has(field)) read.wrong(field, null, 'both ends of the time, as instants');
  const [from, to] = [read.instant('fromTime'), read.instant('toTime')];
  if (from !== null && to !== null && Date.parse(to) <= Date.parse(from)) read.wrong('toTime', query['toTime'], 'after fromTime');
  return { by: 'time', from: from ?? '', to: to ?? '' };
}

function axisOf(read: QueryReader, query: Query, by: AxisQuestion['by']): ChartedPipe {
  const interval = intervalOf(read, query, by === 'footage' ? 0 : -DEEPEST_MM);
  const [at, shoeMdMm] = [read.instant('at'), read.metres('shoeMdM', -DEEPEST_MM)];
  if (at !== null && shoeMdMm !== null) read.wrong('shoeMdM', query['shoeMdM'], 'either at or shoeMdM');
  return { by, interval, shoeMdMm, at };
}

function intervalOf(read: QueryReader, query: Query, leastMm: number): Interval {
  const [fromMm, toMm] = [read.metres('fromM', leastMm), read.metres('toM', leastMm)];
  for (const field of ['fromM', 'toM']) if (!read.has(field)) read.wrong(field, null, 'both ends of the interval, in metres');
  if (fromMm !== null && toMm !== null && toMm <= fromMm) read.wrong('toM', query['toM'], 'above fromM: the interval is half-open');
  if (toMm !== null && toMm > FOOTAGE_LIMIT_MM) read.wrong('toM', query['toM'], `at most ${FOOTAGE_LIMIT_MM / 1000} m`);
  return { fromMm: fromMm ?? 0, toMm: toMm ?? 1 };
}

function removalOf(read: QueryReader, query: Query): Removal {
  const places = listOf(read, query, 'removeM', 'intervals of footage as 12.0-15.5, with commas between', (text) => placeOf(text));
  const labels = listOf(read, query, 'removeLabels', 'labels of points, with commas between', (text) => (isPrintable(text, 1, 60) ? text : null));
  return { places, labels };
}

function listOf<T>(read: QueryReader, query: Query, field: string, limit: string, one: (text: string) => T | null): T[] {
  if (!read.has(field)) return [];
  const text = query[field];
  const found = typeof text === 'string' ? text.split(',').map((part) => one(part.trim())) : [null];
  if (found.includes(null) || found.length > MOST_REMOVED) read.wrong(field, text, `${limit}, at most ${MOST_REMOVED}`);
  return found.filter((each): each is NonNullable<typeof each> => each !== null);
}

function placeOf(text: string): Interval | null {
  const [from, to, ...rest] = text.split('-').map((part) => millimetresOf(part));
  return from == null || to == null || rest.length > 0 || to <= from ? null : { fromMm: from, toMm: to };
}
