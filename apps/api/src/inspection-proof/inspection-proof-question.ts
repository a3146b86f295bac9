import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

export interface InspectionProofQuestion {
  /** One channel; all required ones when null. */
  readonly channelId: string | null;
  /** Footage, half-open, mm; from the first pipe on record, and up to the last, where null. */
  readonly fromMm: number | null;
  readonly toMm: number | null;
  readonly asKnownAt: string | null;
}

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function inspectionProofQuestionOf(query: Query): InspectionProofQuestion {
  const read = new QueryReader(query, ['channelId', 'fromMm', 'toMm', 'asKnownAt']);
  const channelId = read.id('channelId');
  const [fromMm, toMm] = [footage(read, query, 'fromMm'), footage(read, query, 'toMm')];
  if (toMm !== null && toMm <= (fromMm ?? 0)) read.wrong('toMm', query['toMm'], `above ${fromMm ?? 0} mm: the interval is half-open`);
  const asKnownAt = read.instant('asKnownAt');
  read.settle();
  return { channelId, fromMm, toMm, asKnownAt };
}

/** Up to the last footage that a string can have, and never so far that nothing is left above it. */
function footage(read: QueryReader, query: Query, field: 'fromMm' | 'toMm'): number | null {
  const text = query[field];
  if (text === undefined) return null;
  const mm = typeof text === 'string' && /^\d{1,9}$/.test(text) ? Number(text) : Infinity;
  const most = field === 'fromMm' ? FOOTAGE_LIMIT_MM - 1 : FOOTAGE_LIMIT_MM;
  if (mm <= most) return mm;
  read.wrong(field, text, `footage in whole mm, 0 to ${most}`);
  return null;
}
