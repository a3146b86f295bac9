import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Part, Text, Whole } from '../http/fields.js';
import { PlacedContent, PlacedInput, PlaceInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

/** Common practice, no published source: no coil of strip comes near 100 km. */
const LONGEST_STRIP_MM = 100_000_000;

export const RUNS = ['head-first', 'tail-first'] as const;

export class CoilSegmentInput extends OmitType(PlacedInput, ['to'] as const) {
  @Part({ description: 'Where the pipe made from this strip ends.', of: () => PlaceInput, example: { footageMm: 859_400, uMm: '5' } })
  to!: PlaceInput;

  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Whole({ description: 'Where the strip begins, from the head of the coil.', example: 1200, min: 0, max: LONGEST_STRIP_MM, unit: 'mm' })
  stripFromMm!: number;

  @Whole({ description: 'Where the strip ends, from the head of the coil; half-open.', example: 648_200, min: 1, max: LONGEST_STRIP_MM, unit: 'mm' })
  stripToMm!: number;

  @Choice({ description: 'Which end of the coil went first into the line.', example: 'head-first', of: RUNS })
  runs!: (typeof RUNS)[number];

  @Text({ description: 'Anything else worth knowing.', example: 'Tail fishplate cut off', max: 2000, optional: true })
  note?: string | null;
}

/** The segment's own fields of an answer. */
export class CoilSegmentContent extends IntersectionType(
  PlacedContent,
  OmitType(CoilSegmentInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class CoilSegmentAnswer extends IntersectionType(RecordAnswer, CoilSegmentContent) {}
