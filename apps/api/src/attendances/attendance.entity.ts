import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { AttendanceOutcome, AttendingParty } from './attendance.dto.js';

/** Somebody who attended, and for whom. */
export interface AttendingPerson {
  readonly name: string;
  readonly party: AttendingParty;
}

/** A hold, witness or review point that was kept on this pipe. */
@RecordTable('attendance', { stringId: 'casing_string' })
@Check('ck_attendance_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_attendance_outcome', "outcome in ('accepted', 'not-accepted')")
@Check('ck_attendance_note', "outcome = 'accepted' or note is not null")
@Check('ck_attendance_attended_by', "jsonb_typeof(attended_by) = 'array' and jsonb_array_length(attended_by) between 1 and 10")
@IndexByName('ix_attendance_span')
@IndexByName('ix_attendance_known_from')
export class Attendance extends PlacedVersion {
  /** Of a point in a control plan that stood when the record first named it. */
  @Column({ type: 'text' })
  itemCode!: string;

  @Column({ type: 'text' })
  outcome!: AttendanceOutcome;

  @Column({ type: 'jsonb' })
  attendedBy!: readonly AttendingPerson[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
