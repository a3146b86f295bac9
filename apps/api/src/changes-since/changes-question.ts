import { isUuid, isWorkingInstant } from '../http/fields.js';
import type { KnownPlace } from '../string-records/known-changes.service.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

export interface ChangesQuestion {
  /** Null: since the end of the own last shift. */
  readonly since: string | null;
  readonly after: KnownPlace | null;
  readonly limit: number;
  /** Versions that no person wrote are listed too, not only counted. */
  readonly withDerived: boolean;
  readonly asKnownAt: string | null;
}

const PAGE = 100;
const LONGEST_PAGE = 500;
const PARAMETERS = ['since', 'after', 'limit', 'derivedAgain', 'asKnownAt'];

/** A place between two pages as a caller carries it from one to the next. */
export const textOfPlace = ({ knownFrom, kind, id }: KnownPlace): string => `${knownFrom},${kind},${id}`;

/** The place that such a text stands for; null when it is none. */
export function placeOfText(text: unknown): KnownPlace | null {
  if (typeof text !== 'string') return null;
  const [knownFrom = '', kind = '', id = '', ...rest] = text.split(',');
  return rest.length === 0 && isWorkingInstant(knownFrom) && /^[a-z-]{1,40}$/.test(kind) && isUuid(id) ? { knownFrom, kind, id } : null;
}

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function changesQuestionOf(query: Query): ChangesQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const since = read.instant('since');
  const after = placeOfText(query['after']);
  if (read.has('after') && after === null) read.wrong('after', query['after'], 'the `next` of the page before');
  const { limit: text = String(PAGE) } = query;
  const limit = typeof text === 'string' && /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (limit < 1 || limit > LONGEST_PAGE) read.wrong('limit', text, `a whole number, 1 to ${LONGEST_PAGE}`);
  const withDerived = read.choice('derivedAgain', ['counted', 'listed'], 'counted') === 'listed';
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { since, after, limit, withDerived, asKnownAt };
}
