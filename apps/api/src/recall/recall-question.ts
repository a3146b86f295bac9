import { isPrintable } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

/** What a recall can start from: a record, or a batch. */
export const RECALLED = ['heat', 'coil', 'certificate', 'person', 'splice', 'counterPeriod', 'nonconformance', 'instrument', 'calibration', 'qualification', 'weldProcedure', 'fillerBatch', 'gasBatch'] as const;
export type Recalled = (typeof RECALLED)[number];

/** Batches are no records: they go by what is written on them. */
const BATCHES: ReadonlySet<Recalled> = new Set(['fillerBatch', 'gasBatch']);
const LONGEST_BATCH = 60;

/** From which record, and when the walls are asked for. */
export interface RecallQuestion {
  readonly by: Recalled;
  /** Of the record; of a batch, what is written on it. */
  readonly id: string;
  /** Each string's last reading when absent. */
  readonly at: string | null;
  readonly asKnownAt: string | null;
}

const parameterOf = (kind: Recalled): string => (BATCHES.has(kind) ? kind : `${kind}Id`);
const PARAMETERS = [...RECALLED.map(parameterOf), 'at', 'asKnownAt'];

/** The question of a query string. Refuses (400) with one entry for each wrong parameter, and all but exactly one id. */
export function recallQuestionOf(query: Query): RecallQuestion {
  const read = new QueryReader(query, PARAMETERS);
  const ids = RECALLED.flatMap((by) => (read.has(parameterOf(by)) ? [{ by, id: BATCHES.has(by) ? batchOf(query, by, read) : read.id(parameterOf(by)) }] : []));
  const [first, second] = ids;
  if (first === undefined) read.wrong('heatId', null, `exactly one of ${RECALLED.map(parameterOf).join(', ')}`);
  if (second !== undefined) read.wrong(parameterOf(second.by), query[parameterOf(second.by)], 'one record to recall from at a time');
  const at = read.instant('at');
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  if (first?.id == null) throw malformed([]);
  return { by: first.by, id: first.id, at, asKnownAt };
}

function batchOf(query: Query, by: Recalled, read: QueryReader): string | null {
  const text = query[by];
  if (isPrintable(text, 1, LONGEST_BATCH)) return text;
  read.wrong(by, text, `a batch of 1 to ${LONGEST_BATCH} characters`);
  return null;
}
