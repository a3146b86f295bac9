import { QueryReader, type Query } from '../trace/trace-question.js';
import type { StopRule } from './line-motion.js';

export interface LineEventsQuestion {
  readonly stop: StopRule;
  readonly asKnownAt: string | null;
}

/** What counts as a stop unless the question says otherwise. Our own choice, no published source. */
export const USUAL_STOP: StopRule = { slowMPerMin: 0.1, leastSeconds: 60 };
const [FASTEST_M_PER_MIN, LONGEST_S] = [100, 86_400];

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function lineEventsQuestionOf(query: Query): LineEventsQuestion {
  const read = new QueryReader(query, ['slowMPerMin', 'stopS', 'asKnownAt']);
  const [slow, stop] = [query['slowMPerMin'], query['stopS']];
  const slowMPerMin = typeof slow === 'string' && /^\d{1,3}(\.\d{1,3})?$/.test(slow) ? Number(slow) : Infinity;
  if (slow !== undefined && slowMPerMin > FASTEST_M_PER_MIN) read.wrong('slowMPerMin', slow, `m/min as decimal text, 0 to ${FASTEST_M_PER_MIN}, at most 3 decimals`);
  const leastSeconds = typeof stop === 'string' && /^\d{1,5}$/.test(stop) ? Number(stop) : 0;
  if (stop !== undefined && (leastSeconds < 1 || leastSeconds > LONGEST_S)) read.wrong('stopS', stop, `whole seconds, 1 to ${LONGEST_S}`);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { stop: { slowMPerMin: slow === undefined ? USUAL_STOP.slowMPerMin : slowMPerMin, leastSeconds: stop === undefined ? USUAL_STOP.leastSeconds : leastSeconds }, asKnownAt };
}
