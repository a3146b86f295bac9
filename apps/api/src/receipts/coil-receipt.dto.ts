import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Text, Whole } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const OCCASIONS = ['delivery', 'back-from-line'] as const;
export const CONDITIONS = ['sound', 'damaged', 'wet', 'unbanded'] as const;

export class CoilReceiptInput extends RecordInput {
  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Choice({ description: 'delivery; back-from-line: the rest of a coil that was used in part.', example: 'delivery', of: OCCASIONS })
  occasion!: (typeof OCCASIONS)[number];

  @Text({ description: 'The coil number on its tag, as read from it.', example: 'LM-01', max: 60 })
  tagNumber!: string;

  @Text({ description: 'The heat number on tag or stencil, as read from it.', example: 'H40711', max: 60, optional: true })
  tagHeatNumber?: string | null;

  @Measured({ description: 'Mass as weighed here.', example: '9846', min: 20, max: 45_000, unit: 'kg', optional: true })
  weighedMassKg?: string | null;

  @Measured({ description: 'Standard uncertainty of that mass.', example: '5', min: 0, max: 1000, unit: 'kg', optional: true })
  weighedMassUKg?: string | null;

  @Measured({ description: 'Bore of the coil.', example: '508', min: 100, max: 1500, unit: 'mm', optional: true })
  boreMm?: string | null;

  @Measured({ description: 'Outer diameter of the coil.', example: '2110', min: 150, max: 4000, unit: 'mm', optional: true })
  outerDiameterMm?: string | null;

  @Measured({ description: 'Standard uncertainty of each diameter.', example: '3', min: 0, max: 200, unit: 'mm', optional: true })
  diameterUMm?: string | null;

  @Whole({ description: 'For the rest of a coil: its length.', example: null, min: 0, max: 100_000_000, unit: 'mm', optional: true })
  restLengthMm?: number | null;

  @Choice({ description: 'What it looks like.', example: 'sound', of: CONDITIONS })
  condition!: (typeof CONDITIONS)[number];

  @Text({ description: 'What is wrong with it; needed unless it is sound.', example: null, max: 1000, optional: true })
  damage?: string | null;

  @Text({ description: 'Where it was put.', example: 'Bay 2, row 3', max: 120 })
  place!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The receipt's own fields of an answer. */
export class CoilReceiptContent extends OmitType(CoilReceiptInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class CoilReceiptAnswer extends IntersectionType(RecordAnswer, CoilReceiptContent) {}
