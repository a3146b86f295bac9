import { malformed } from '../http/problem.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** The kinds of record a recall can start from. */
export const RECALLED = ['heat', 'coil', 'certificate', 'person', 'splice', 'counterPeriod', 'nonconformance', 'instrument', 'weldProcedure'] as const;
export type Recalled = (typeof RECALLED)[number];

/** From which record, and when the walls are asked for. */
export interface RecallQuestion {
  readonly by: Recalled;
  readonly id: string;
  /** Each string's last reading when absent. */
  readonly at: string | null;
  readonly asKnownAt: string | null;
}

const idField = (kind: Recalled): string => `${kind}Id`;
const PARAMETERS = [...RECALLED.map(idField), 'at', 'asKnownAt'];

/** The question of a query string. Refuses (400) with one entry for each wrong parameter, and all but exactly one id. */
export function recallQuestionOf(query: Query): RecallQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const ids = RECALLED.flatMap((by) => (read.has(idField(by)) ? [{ by, id: read.id(idField(by)) }] : []));
  const [first, second] = ids;
  if (first === undefined) read.wrong('heatId', null, `exactly one of ${RECALLED.map(idField).join(', ')}`);
  if (second !== undefined) read.wrong(idField(second.by), query[idField(second.by)], 'one record to recall from at a time');
  const at = read.instant('at');
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  if (first?.id == null) throw malformed([]);
  return { by: first.by, id: first.id, at, asKnownAt };
}
