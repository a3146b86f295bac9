import type { Interval } from '#libs/intervals';
import type { Paper } from '#libs/reports';
import { PAPERS } from '../reports/report-question.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

export const PRESSURE_MEASURES = ['md', 'footage'] as const;
export const WALLS = ['outer', 'inner'] as const;

/** What is asked about the pressures that a string's walls are rated for. */
export interface PressureQuestion {
  readonly by: (typeof PRESSURE_MEASURES)[number];
  /** Null for both walls whole. */
  readonly interval: Interval | null;
  /** The shoe: its depth, or the time whose it is; the last known one when both are null. */
  readonly shoeMdMm: number | null;
  readonly at: string | null;
  readonly asKnownAt: string | null;
  /** Length of pipe for which one lowest reading stands; null: as short as keeps the answer to `USUAL_WINDOWS`. */
  readonly windowMm: number | null;
  readonly explain: boolean;
}

export interface PressureLasQuestion extends PressureQuestion {
  readonly wall: (typeof WALLS)[number];
}

export interface PressurePageQuestion extends PressureQuestion {
  readonly paper: Paper;
}

/** Lengths of windows that can be asked for. Our own choice. */
export const SHORTEST_WINDOW_MM = 100;
export const LONGEST_WINDOW_MM = 1_000_000;
const USUAL_WINDOW_MM = 10_000;
/** So many windows a wall when none is asked for, and at most. Our own choice: the answer stays readable, and bounded. */
const USUAL_WINDOWS = 2_000;
export const MOST_WINDOWS = 5_000;

const PARAMETERS = ['by', 'fromM', 'toM', 'at', 'shoeMdM', 'asKnownAt', 'windowM'] as const;
const LONGEST_MM = 100_000_000;

/** The window for so much pipe when none is asked for: 10 m, or as many tens of metres as are needed. */
export const usualWindowMm = (lengthMm: number): number => USUAL_WINDOW_MM * Math.max(1, Math.ceil(lengthMm / USUAL_WINDOW_MM / USUAL_WINDOWS));

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function pressureQuestionOf(query: Query): PressureQuestion {
  const read = new QueryReader(query, [...PARAMETERS, 'explain']);
  const question = { ...pipeOf(read, query), explain: read.choice('explain', ['true', 'false'], 'false') === 'true' };
  read.settle();
  return question;
}

/** The same for a table as CSV: nothing is explained. */
export function pressureTableQuestionOf(query: Query): PressureQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const question = { ...pipeOf(read, query), explain: false };
  read.settle();
  return question;
}

/** The same for one wall as LAS. */
export function pressureLasQuestionOf(query: Query): PressureLasQuestion {
  const read = new QueryReader(query, [...PARAMETERS, 'wall']);
  if (!read.has('wall')) read.wrong('wall', null, `one of ${WALLS.join(', ')}`);
  const question = { ...pipeOf(read, query), explain: false, wall: read.choice('wall', WALLS, 'outer') };
  read.settle();
  return question;
}

/** The same for a drawing. */
export function pressurePageQuestionOf(query: Query): PressurePageQuestion {
  const read = new QueryReader(query, [...PARAMETERS, 'paper']);
  const question = { ...pipeOf(read, query), explain: false, paper: read.choice('paper', PAPERS, 'A4') };
  read.settle();
  return question;
}

function pipeOf(read: QueryReader, query: Query): Omit<PressureQuestion, 'explain'> {
  const by = read.choice('by', PRESSURE_MEASURES, 'md');
  const leastMm = by === 'md' ? -LONGEST_MM : 0;
  const [fromMm, toMm] = [read.metres('fromM', leastMm), read.metres('toM', leastMm)];
  if (read.has('toM') && !read.has('fromM')) read.wrong('fromM', null, 'where the interval begins, beside toM; leave both away for the whole walls');
  if (read.has('fromM') && !read.has('toM')) read.wrong('toM', null, 'where the interval ends, beside fromM; leave both away for the whole walls');
  if (fromMm !== null && toMm !== null && toMm <= fromMm) read.wrong('toM', query['toM'], 'above fromM');
  const [at, shoeMdMm] = [read.instant('at'), read.metres('shoeMdM', -LONGEST_MM)];
  if (at !== null && shoeMdMm !== null) read.wrong('shoeMdM', query['shoeMdM'], 'either at or shoeMdM');
  return {
    by, interval: fromMm === null || toMm === null || toMm <= fromMm ? null : { fromMm, toMm }, at, shoeMdMm, asKnownAt: read.instant('asKnownAt'), windowMm: windowOf(read, query),
  };
}

function windowOf(read: QueryReader, query: Query): number | null {
  const mm = read.metres('windowM', SHORTEST_WINDOW_MM);
  if (mm === null || mm <= LONGEST_WINDOW_MM) return mm;
  read.wrong('windowM', query['windowM'], `metres as decimal text, ${SHORTEST_WINDOW_MM / 1000} to ${LONGEST_WINDOW_MM / 1000}`);
  return null;
}
