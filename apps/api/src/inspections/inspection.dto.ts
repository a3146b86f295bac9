import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Text } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

export const INSPECTION_KINDS = ['visual', 'dimensional'] as const;
export const INSPECTION_VERDICTS = ['accepted', 'rejected', 'for-evaluation'] as const;
export const SURFACES = ['formed-inside', 'formed-outside'] as const;
export const VIEWINGS = ['down-the-hole', 'up-the-hole'] as const;

export class InspectionInput extends PlacedInput {
  @Choice({ description: 'Seen, or measured.', example: 'dimensional', of: INSPECTION_KINDS })
  kind!: (typeof INSPECTION_KINDS)[number];

  @Text({ description: 'What was looked at.', example: 'wall thickness', max: 80 })
  characteristic!: string;

  @Measured({
    description: 'What was measured, digits as read; for dimensional entries.',
    example: '4.97', min: -1e6, max: 1e6, unit: 'in its unit', optional: true,
  })
  value?: string | null;

  @Text({ description: 'The unit of the value and its limits.', example: 'mm', max: 20, optional: true })
  unit?: string | null;

  @Measured({
    description: 'The least that the requirement allows.',
    example: '4.75', min: -1e6, max: 1e6, unit: 'in the unit of the value', optional: true,
  })
  limitMin?: string | null;

  @Measured({
    description: 'The most that the requirement allows.',
    example: null, min: -1e6, max: 1e6, unit: 'in the unit of the value', optional: true,
  })
  limitMax?: string | null;

  @Text({
    description: 'Document, revision and clause that set the limits.',
    example: 'Pipe inspection plan rev 2, 4.3', max: 200, optional: true,
  })
  requirement?: string | null;

  @Choice({ description: 'The surface as formed on the line.', example: 'formed-outside', of: SURFACES, optional: true })
  surface?: (typeof SURFACES)[number] | null;

  @Measured({
    description: 'Clock position in hours, more than 0 and at most 12.',
    example: '3.5', min: 0.01, max: 12, unit: 'h', optional: true,
  })
  clockHours?: string | null;

  @Choice({ description: 'The way the viewer of the clock looked.', example: 'down-the-hole', of: VIEWINGS, optional: true })
  viewing?: (typeof VIEWINGS)[number] | null;

  @Id({ description: 'The instrument it was measured with.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  instrumentId?: string | null;

  @Choice({ description: "The inspector's verdict.", example: 'accepted', of: INSPECTION_VERDICTS })
  verdict!: (typeof INSPECTION_VERDICTS)[number];

  @Text({ description: 'What else was noticed.', example: 'Seam trimmed flush', max: 4000, optional: true })
  note?: string | null;
}

/** The inspection's own fields of an answer. */
export class InspectionContent extends IntersectionType(
  PlacedContent,
  OmitType(InspectionInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class InspectionAnswer extends IntersectionType(RecordAnswer, InspectionContent) {}
