import { QueryReader, type Query } from '../trace/trace-question.js';

export interface SeamStopsQuestion {
  /** Half length of influence of a stop along the pipe, whole mm. */
  readonly influenceMm: number;
  /** The question said so; else 0 was taken. */
  readonly isInfluenceGiven: boolean;
  readonly asKnownAt: string | null;
}

const LONGEST_MM = 100_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function seamStopsQuestionOf(query: Query): SeamStopsQuestion {
  const read = new QueryReader(query, ['influenceMm', 'asKnownAt']);
  const text = query['influenceMm'];
  const influenceMm = typeof text === 'string' && /^\d{1,6}$/.test(text) ? Number(text) : Infinity;
  if (text !== undefined && influenceMm > LONGEST_MM) read.wrong('influenceMm', text, `whole millimetres, 0 to ${LONGEST_MM}`);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { influenceMm: text === undefined ? 0 : influenceMm, isInfluenceGiven: text !== undefined, asKnownAt };
}
