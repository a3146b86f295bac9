import type { Paper } from '#libs/reports';
import { QueryReader, type Query } from '../trace/trace-question.js';

export const PAPERS = ['A4', 'Letter'] as const satisfies readonly Paper[];

/** On which paper a report is asked for, and as known when; null for now. */
export interface ReportQuestion {
  readonly paper: Paper;
  readonly asKnownAt: string | null;
}

/** The question of a query string; A4 when no paper is named. Refuses with one entry for each wrong parameter. */
export function reportQuestionOf(query: Query): ReportQuestion {
  const read = new QueryReader(query, ['paper', 'asKnownAt']);
  const question = { paper: read.choice('paper', PAPERS, 'A4'), asKnownAt: read.instant('asKnownAt') };
  read.settle();
  return question;
}
