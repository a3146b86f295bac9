import type { Interval } from '#libs/intervals';
import { QueryReader, type Query } from '../trace/trace-question.js';
import { USUAL_LIMITS } from './watch-limits.js';

/** What is asked about the signals of a channel. */
export interface ChannelWatchQuestion {
  readonly channelId: string;
  /** Footage; null for all of it. */
  readonly within: Interval | null;
  readonly windowMm: number;
  readonly asKnownAt: string | null;
}

const [SHORTEST_MM, LONGEST_MM] = [10, 100_000];
/** No footage lies beyond. */
const END_MM = 100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function channelWatchQuestionOf(query: Query): ChannelWatchQuestion {
  const read = new QueryReader(query, ['channelId', 'fromM', 'toM', 'windowM', 'asKnownAt']);
  const channelId = read.id('channelId');
  if (!read.has('channelId')) read.wrong('channelId', null, 'the channel that is asked about');
  const [fromMm, toMm, windowMm] = [read.metres('fromM', 0), read.metres('toM', 0), read.metres('windowM', 0)];
  if (toMm !== null && toMm <= (fromMm ?? 0)) read.wrong('toM', query['toM'], 'above fromM, or above 0 without one: the interval is empty or reversed');
  if (windowMm !== null && (windowMm < SHORTEST_MM || windowMm > LONGEST_MM)) read.wrong('windowM', query['windowM'], `metres as decimal text, ${SHORTEST_MM / 1_000} to ${LONGEST_MM / 1_000}`);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  const within = fromMm === null && toMm === null ? null : { fromMm: fromMm ?? 0, toMm: toMm ?? END_MM };
  return { channelId: channelId ?? '', within, windowMm: windowMm ?? USUAL_LIMITS.windowMm, asKnownAt };
}
