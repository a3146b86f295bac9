import { microseconds, type RecordVersion } from '#libs/persistence';
import type { FieldChange, HistoryEntry, RecordAnswer } from './record.dto.js';

/** An entry made more than this long after the event is shown as late, never hidden. Our own choice. */
export const LATE_AFTER_US = 3_600_000_000;

/** True for an entry made too long after the event; amendments make nothing late. */
export function isLate({ enteredAt, observedAt }: Pick<RecordVersion, 'enteredAt' | 'observedAt'>): boolean {
  return microseconds(enteredAt) - microseconds(observedAt) > LATE_AFTER_US;
}

/** The fields that every answered record has. */
export function commonAnswer(row: RecordVersion): RecordAnswer {
  return {
    id: row.id,
    version: row.version,
    state: row.state,
    observedAt: row.observedAt,
    recordedAt: row.knownFrom,
    knownUntil: row.knownUntil,
    late: isLate(row),
    doneBy: row.doneBy,
    keyedBy: row.keyedBy,
    deviceId: row.deviceId,
    source: row.source,
    reason: row.reason,
    marks: row.marks,
  };
}

/** What says when and by whom a version was made is shown by the version itself, not as a change. */
const OF_THE_VERSION = new Set(['version', 'recordedAt', 'knownUntil', 'late', 'keyedBy', 'deviceId', 'reason']);

/** The fields in which two answers of one record differ. */
export function changesBetween(before: object, after: object): FieldChange[] {
  const [old, now] = [before as Record<string, unknown>, after as Record<string, unknown>];
  return Object.keys(now)
    .filter((field) => !OF_THE_VERSION.has(field) && JSON.stringify(old[field]) !== JSON.stringify(now[field]))
    .map((field) => ({ field, before: old[field] ?? null, after: now[field] ?? null }));
}

/** The life of a record from the answers of its versions, oldest first. */
export function historyOf(answers: readonly RecordAnswer[], names: ReadonlyMap<string, string>): HistoryEntry[] {
  return answers.map((answer, index) => {
    const before = answers[index - 1];
    return {
      version: answer.version,
      action: before === undefined ? 'created' : answer.state === 'void' ? 'voided' : 'amended',
      recordedAt: answer.recordedAt,
      keyedBy: answer.keyedBy,
      keyedByName: names.get(answer.keyedBy) ?? answer.keyedBy,
      reason: answer.reason,
      changes: before === undefined ? [] : changesBetween(before, answer),
    };
  });
}
