import { QueryReader, type Query } from '../trace/trace-question.js';
import type { FoundQuestion } from './detections.service.js';

const PAGE = 100;
export const LONGEST_PAGE = 500;

/** A whole number of a query within bounds, or `otherwise` where it says none; anything else is told as wrong. */
export function wholeOf(read: QueryReader, query: Query, field: string, { least, most, otherwise }: { readonly least: number; readonly most: number; readonly otherwise: number }): number {
  const { [field]: text = String(otherwise) } = query;
  const number = typeof text === 'string' && /^\d{1,9}$/.test(text) ? Number(text) : -1;
  if (number < least || number > most) read.wrong(field, text, `a whole number, ${least} to ${most}`);
  return number;
}

/** The page of a query string. Refuses (400) with one entry for each wrong parameter. */
export function foundQuestionOf(query: Query): FoundQuestion {
  const read = new QueryReader(query, ['after', 'limit', 'asKnownAt']);
  const from = wholeOf(read, query, 'after', { least: 0, most: 1e9, otherwise: 0 });
  const limit = wholeOf(read, query, 'limit', { least: 1, most: LONGEST_PAGE, otherwise: PAGE });
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { from, limit, asKnownAt };
}
