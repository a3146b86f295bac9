import { isUuid } from '../http/fields.js';
import { PAPERS } from '../reports/report-question.js';
import { QueryReader, type Query } from '../trace/trace-question.js';
import type { Interval } from '#libs/intervals';
import type { Paper } from '#libs/reports';

export const AXES = ['footage', 'outer', 'inner'] as const;

/** Which pipe is looked at, and by what it is laid out. */
export interface AxisQuestion {
  /** Footage, or measured depth on one of the walls. */
  readonly by: (typeof AXES)[number];
  readonly interval: Interval;
  /** The shoe of the inner wall: its depth, or the time whose it is; the last known one when both are null. */
  readonly shoeMdMm: number | null;
  readonly at: string | null;
  readonly asKnownAt: string | null;
}

export interface SignalViewQuestion extends AxisQuestion {
  readonly channelId: string;
  readonly widthPx: number;
}

export interface StripChartQuestion extends AxisQuestion {
  /** All channels of the string when null. */
  readonly channelIds: readonly string[] | null;
  readonly paper: Paper;
}

export interface SamplesQuestion {
  readonly channelId: string;
  readonly interval: Interval;
  readonly format: 'arrow' | 'csv';
  readonly asKnownAt: string | null;
}

const AXIS = ['by', 'fromM', 'toM', 'shoeMdM', 'at', 'asKnownAt'] as const;
export const WIDEST_PX = 4_000;
export const MOST_TRACKS = 12;

/** The question of a view. Refuses (400) with one entry for each wrong parameter. */
export function signalViewQuestionOf(query: Query): SignalViewQuestion {
  const read = new QueryReader(query, [...AXIS, 'channelId', 'widthPx']);
  const axis = axisOf(read, query);
  const channelId = neededId(read, query);
  const width = query['widthPx'] ?? '1200';
  const widthPx = typeof width === 'string' && /^\d{1,4}$/.test(width) ? Number(width) : 0;
  if (widthPx < 1 || widthPx > WIDEST_PX) read.wrong('widthPx', width, `a whole number, 1 to ${WIDEST_PX} columns`);
  read.settle();
  return { ...axis, channelId, widthPx };
}

/** The question of a strip chart. Refuses (400) with one entry for each wrong parameter. */
export function stripChartQuestionOf(query: Query): StripChartQuestion {
  const read = new QueryReader(query, [...AXIS, 'channelIds', 'paper']);
  const axis = axisOf(read, query);
  const text = query['channelIds'];
  const channelIds = typeof text === 'string' ? text.split(',') : null;
  if (text !== undefined && (channelIds === null || channelIds.length > MOST_TRACKS || new Set(channelIds).size < channelIds.length || !channelIds.every(isUuid))) {
    read.wrong('channelIds', text, `1 to ${MOST_TRACKS} ids of channels with commas between, each once`);
  }
  const paper = read.choice('paper', PAPERS, 'A4');
  read.settle();
  return { ...axis, channelIds, paper };
}

/** The question of raw samples. Refuses (400) with one entry for each wrong parameter. */
export function samplesQuestionOf(query: Query): SamplesQuestion {
  const read = new QueryReader(query, ['channelId', 'fromM', 'toM', 'format', 'asKnownAt']);
  const interval = intervalOf(read, query, 0);
  const channelId = neededId(read, query);
  const format = read.choice('format', ['arrow', 'csv'] as const, 'arrow');
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { channelId, interval, format, asKnownAt };
}

function neededId(read: QueryReader, query: Query): string {
  if (query['channelId'] === undefined) read.wrong('channelId', null, 'the id of a channel');
  return read.id('channelId') ?? '';
}

function axisOf(read: QueryReader, query: Query): AxisQuestion {
  const by = read.choice('by', AXES, 'footage');
  const interval = intervalOf(read, query, by === 'footage' ? 0 : null);
  const at = read.instant('at');
  const shoeMdMm = read.metres('shoeMdM', -1e9);
  if (at !== null && shoeMdMm !== null) read.wrong('shoeMdM', query['shoeMdM'], 'either at or shoeMdM');
  if (by !== 'inner' && (at !== null || shoeMdMm !== null)) read.wrong(at === null ? 'shoeMdM' : 'at', query[at === null ? 'shoeMdM' : 'at'], 'only with by=inner: the inner wall moves');
  return { by, interval, shoeMdMm, at, asKnownAt: read.instant('asKnownAt') };
}

function intervalOf(read: QueryReader, query: Query, leastMm: number | null): Interval {
  const [fromMm, toMm] = [read.metres('fromM', leastMm ?? -1e9), read.metres('toM', leastMm ?? -1e9)];
  for (const field of ['fromM', 'toM']) if (!read.has(field)) read.wrong(field, null, 'both ends of the interval, in metres');
  if (fromMm !== null && toMm !== null && toMm <= fromMm) read.wrong('toM', query['toM'], 'above fromM');
  return { fromMm: fromMm ?? 0, toMm: toMm ?? 1 };
}
