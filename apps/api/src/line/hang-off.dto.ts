import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Measured, Text, Whole } from '../http/fields.js';
import { RecordAnswer } from '../records/record.dto.js';
import { PlacedContent, PlacedInput } from './placed.dto.js';

export class HangOffInput extends OmitType(PlacedInput, ['to'] as const) {
  @Whole({
    description: 'Measured depth at which the pipe hangs; negative above the datum.',
    example: 2_500, min: -100_000, max: 1_000_000, unit: 'mm',
  })
  mdMm!: number;

  @Measured({ description: 'Standard uncertainty of the depth.', example: '5', min: 0, max: 1e5, unit: 'mm' })
  mdUMm!: string;

  @Text({ description: 'Anything else worth knowing.', example: 'Lead end cut square 0.30 m above the clamp', max: 2000, optional: true })
  note?: string | null;
}

/** The hang-off's own fields of an answer. */
export class HangOffContent extends IntersectionType(
  PlacedContent,
  OmitType(HangOffInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from'] as const),
) {}

export class HangOffAnswer extends IntersectionType(RecordAnswer, HangOffContent) {}
