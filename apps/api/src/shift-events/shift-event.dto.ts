import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Part, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { AboutRecordPart } from '../string-records/about-record.dto.js';

export const SHIFT_EVENTS = ['stop', 'visitor', 'safety', 'weather', 'equipment', 'material', 'other'] as const;

export class ShiftEventInput extends StringRecordInput {
  @Id({ description: 'The shift.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b51' })
  shiftId!: string;

  @Choice({ description: 'What it was about.', example: 'visitor', of: SHIFT_EVENTS })
  category!: (typeof SHIFT_EVENTS)[number];

  @Text({ description: 'What happened.', example: "Purchaser's representative at the line, 08:10 to 08:40", max: 4000 })
  text!: string;

  @Part({ description: 'A record of the string that it is about.', of: () => AboutRecordPart, example: null, optional: true })
  about?: AboutRecordPart | null;
}

/** The event's own fields of an answer. */
export class ShiftEventContent extends OmitType(ShiftEventInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ShiftEventAnswer extends IntersectionType(RecordAnswer, ShiftEventContent) {}
