import { LONGEST_PAGE, wholeOf } from '../detections/found-question.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

export interface HoldClockQuestion {
  /** The moment it is told for; that of the knowledge when null. */
  readonly at: string | null;
  readonly asKnownAt: string | null;
  /** Number of the first, from 0. */
  readonly from: number;
  readonly limit: number;
}

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function holdClockQuestionOf(query: Query): HoldClockQuestion {
  const read = new QueryReader(query, ['at', 'after', 'limit', 'asKnownAt']);
  const question = {
    at: read.instant('at'), asKnownAt: read.instant('asKnownAt'), from: wholeOf(read, query, 'after', { least: 0, most: 1e9, otherwise: 0 }),
    limit: wholeOf(read, query, 'limit', { least: 1, most: LONGEST_PAGE, otherwise: 100 }),
  };
  read.settle();
  return question;
}
