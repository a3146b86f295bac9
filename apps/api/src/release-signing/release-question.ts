import type { Interval } from '#libs/intervals';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** The footage of a query string. Refuses (400) with one entry for each wrong parameter. */
export function footageOf(query: Query): Interval {
  const read = new QueryReader(query, ['fromM', 'toM']);
  const [fromMm, toMm] = [read.metres('fromM', 0), read.metres('toM', 0)];
  for (const field of ['fromM', 'toM'] as const) if (!read.has(field)) read.wrong(field, null, 'metres of footage');
  if (fromMm !== null && toMm !== null && toMm <= fromMm) read.wrong('toM', query['toM'], 'above fromM: the interval is half-open');
  if (toMm !== null && toMm > FOOTAGE_LIMIT_MM) read.wrong('toM', query['toM'], `at most ${FOOTAGE_LIMIT_MM / 1000} m`);
  read.settle();
  return { fromMm: fromMm ?? 0, toMm: toMm ?? 0 };
}
