import type { FieldProblem } from '../http/problem.js';
import { intervalFaults } from '../line/given-place.js';
import type { AttendanceInput } from './attendance.dto.js';

type Said = Pick<AttendanceInput, 'from' | 'to' | 'outcome' | 'note'>;

/** What does not go together in an attendance: its place, and no acceptance without a word. */
export function attendanceFaults({ from, to, outcome, note }: Said): FieldProblem[] {
  return [
    ...intervalFaults({ from, to: to ?? null }),
    ...(outcome === 'not-accepted' && note == null ? [{ field: 'note', value: null, limit: 'what was said, where it was not accepted' }] : []),
  ];
}
