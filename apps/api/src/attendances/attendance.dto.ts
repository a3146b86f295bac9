import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, ItemCode, Parts, Text } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

export const ATTENDANCE_OUTCOMES = ['accepted', 'not-accepted'] as const;
export type AttendanceOutcome = (typeof ATTENDANCE_OUTCOMES)[number];

/** For whom somebody attends. */
export const ATTENDING_PARTIES = ['own', 'customer', 'inspection-body', 'authority'] as const;
export type AttendingParty = (typeof ATTENDING_PARTIES)[number];

/** Somebody who attended. */
export class AttendingPersonPart {
  @Text({ description: 'Who.', example: 'Edda Voss', max: 120 })
  name!: string;

  @Choice({ description: 'For whom.', example: 'customer', of: ATTENDING_PARTIES })
  party!: AttendingParty;
}

/** A hold, witness or review point of a control plan was kept on this pipe. `doneBy` is who records it. */
export class AttendanceInput extends PlacedInput {
  @ItemCode({ description: 'The point: the code of such an item in a control plan of the string.', example: 'P-1' })
  itemCode!: string;

  @Choice({ description: 'What it came to.', example: 'accepted', of: ATTENDANCE_OUTCOMES })
  outcome!: AttendanceOutcome;

  @Parts({ description: 'Who attended.', of: () => AttendingPersonPart, min: 1, max: 10 })
  attendedBy!: AttendingPersonPart[];

  @Text({ description: 'What was said; needed where it was not accepted.', example: 'Seen at the visual station', max: 2000, optional: true })
  note?: string | null;
}

/** The attendance's own fields of an answer. */
export class AttendanceContent extends IntersectionType(
  PlacedContent,
  OmitType(AttendanceInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class AttendanceAnswer extends IntersectionType(RecordAnswer, AttendanceContent) {}
