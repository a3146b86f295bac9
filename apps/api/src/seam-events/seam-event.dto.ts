import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Parts, Text } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';
import { WeldReadingPart } from '../welds/weld.dto.js';

export const SEAM_EVENTS = ['start', 'stop', 'restart', 'set-up-change'] as const;
export type SeamEventKind = (typeof SEAM_EVENTS)[number];

/** `doneBy` is the operator. The place is the footage at the weld point, so it names no station; it is one millimetre long. */
export class SeamEventInput extends OmitType(PlacedInput, ['to'] as const) {
  @Choice({ description: 'What happened to the seam weld.', example: 'stop', of: SEAM_EVENTS })
  event!: SeamEventKind;

  @Id({ description: 'The revision of the procedure in use.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b44' })
  weldProcedureId!: string;

  @Parts({
    description: 'What was set and measured; may be empty.', of: () => WeldReadingPart, max: 100,
    example: [{ variable: 'power', printed: '182', unit: 'kW' }, { variable: 'line-speed', printed: '12.0', unit: 'm/min' }],
  })
  readings!: WeldReadingPart[];

  @Text({ description: 'Why; a stop needs it.', example: 'Strip caught at the entry guide', max: 2000, optional: true })
  cause?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The event's own fields of an answer. */
export class SeamEventContent extends IntersectionType(
  PlacedContent,
  OmitType(SeamEventInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from'] as const),
) {}

export class SeamEventAnswer extends IntersectionType(RecordAnswer, SeamEventContent) {}
