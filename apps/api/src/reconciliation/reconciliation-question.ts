import { QueryReader, type Query } from '../trace/trace-question.js';

export interface ReconciliationQuestion {
  /** Sums are drawn up at the last shoe tie by then; at the last one of all when absent. */
  readonly at: string | null;
  readonly asKnownAt: string | null;
  readonly explain: boolean;
}

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function reconciliationQuestionOf(query: Query): ReconciliationQuestion {
  const read = new QueryReader(query, ['at', 'asKnownAt', 'explain']);
  const at = read.instant('at');
  const asKnownAt = read.instant('asKnownAt');
  const explain = read.choice('explain', ['true', 'false'], 'false') === 'true';
  read.settle();
  return { at, asKnownAt, explain };
}
