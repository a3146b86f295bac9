import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import type { Interval } from '#libs/intervals';
import { QueryReader, type Query } from '../trace/trace-question.js';

export const EVIDENCE_AXES = ['footage', 'md'] as const;

/** What is asked: all pipe, footage, or a depth, which means pipe of both walls. */
export interface EvidenceQuestion {
  readonly by: (typeof EVIDENCE_AXES)[number];
  /** Half-open, mm; null: all of it. */
  readonly interval: Interval | null;
  readonly asKnownAt: string | null;
}

const DEEPEST_MM = 100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter; `more` are parameters that others read. */
export function evidenceQuestionOf(query: Query, more: readonly string[] = []): EvidenceQuestion {
  const read = new QueryReader(query, ['by', 'fromM', 'toM', 'asKnownAt', ...more]);
  const by = read.choice('by', EVIDENCE_AXES, 'footage');
  const [leastMm, mostMm] = by === 'md' ? [-DEEPEST_MM, DEEPEST_MM] : [0, FOOTAGE_LIMIT_MM];
  const [fromMm, toMm] = [read.metres('fromM', leastMm), read.metres('toM', leastMm)];
  if (toMm !== null && toMm <= (fromMm ?? leastMm)) read.wrong('toM', query['toM'], 'above fromM: the interval is half-open');
  for (const [field, mm] of [['fromM', fromMm], ['toM', toMm]] as const) if (mm !== null && mm > mostMm) read.wrong(field, query[field], `at most ${mostMm / 1000} m`);
  if (fromMm !== null && fromMm >= mostMm) read.wrong('fromM', query['fromM'], `below ${mostMm / 1000} m`);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { by, interval: fromMm === null && toMm === null ? null : { fromMm: fromMm ?? leastMm, toMm: toMm ?? mostMm }, asKnownAt };
}
