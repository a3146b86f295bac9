import { QueryReader, type Query } from '../trace/trace-question.js';

/** Of which channels coverage is asked. */
export interface CoverageQuestion {
  /** Null for all that are required. */
  readonly channelId: string | null;
  readonly asKnownAt: string | null;
}

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function coverageQuestionOf(query: Query): CoverageQuestion {
  const read = new QueryReader(query, ['channelId', 'asKnownAt']);
  const [channelId, asKnownAt] = [read.id('channelId'), read.instant('asKnownAt')];
  read.settle();
  return { channelId, asKnownAt };
}
