import { QueryReader, type Query } from '../trace/trace-question.js';

/** Which metre is asked for, and when or with the shoe at which depth. */
export interface WhereaboutsQuestion {
  readonly footageMm: number;
  /** The last reading's time when neither time nor shoe is given. */
  readonly at: string | null;
  readonly shoeMdMm: number | null;
  readonly asKnownAt: string | null;
  readonly explain: boolean;
}

const PARAMETERS = ['footageM', 'at', 'shoeMdM', 'asKnownAt', 'explain'] as const;
/** Depths can lie above the datum; footage cannot. */
const HIGHEST_MD_MM = -100_000_000;

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function whereaboutsQuestionOf(query: Query): WhereaboutsQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const footageMm = read.metres('footageM', 0);
  if (!read.has('footageM')) read.wrong('footageM', null, 'the footage asked for, in metres');
  const at = read.instant('at');
  const shoeMdMm = read.metres('shoeMdM', HIGHEST_MD_MM);
  if (at !== null && shoeMdMm !== null) read.wrong('shoeMdM', query['shoeMdM'], 'either at or shoeMdM');
  const asKnownAt = read.instant('asKnownAt');
  const explain = read.choice('explain', ['true', 'false'], 'false') === 'true';
  read.settle();
  return { footageMm: footageMm ?? 0, at, shoeMdMm, asKnownAt, explain };
}
