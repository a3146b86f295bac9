import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Measured, Text, Whole } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export class CasingStringInput extends RecordInput {
  @Id({ description: 'The well.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b04' })
  wellId!: string;

  @Text({ description: 'The name of the string, unique in its well.', example: 'Lindmoor 2 main string', max: 80 })
  name!: string;

  @Whole({
    description: 'The most footage the string may have; every record on it lies below.',
    example: 4_000_000, min: 1, max: 100_000_000, unit: 'mm',
  })
  footageLimitMm!: number;

  @Measured({ description: 'Nominal outside diameter on the line.', example: '127.0', min: 10, max: 700, unit: 'mm' })
  outsideDiameterMm!: string;

  @Measured({ description: 'Nominal wall thickness on the line.', example: '5.00', min: 0.3, max: 40, unit: 'mm' })
  wallThicknessMm!: string;

  @Text({ description: 'The counter meant where none is named; main when absent.', example: 'main', max: 40, optional: true })
  masterCounter?: string | null;

  @Measured({
    description: 'Length ratio λ: metres of outer wall made from one metre of inner pipe at the fold.',
    example: '0.985', min: 0.5, max: 2, unit: 'm per m',
  })
  lengthRatio!: string;

  @Measured({ description: 'Standard uncertainty of λ.', example: '0.004', min: 0, max: 0.5, unit: 'm per m' })
  lengthRatioU!: string;

  @Measured({
    description: 'Diameter ratio κ: mean diameter of the outer wall over mean diameter of the inner wall.',
    example: '1.16', min: 1, max: 3, unit: 'mm per mm', optional: true,
  })
  diameterRatio?: string | null;

  @Measured({ description: 'Standard uncertainty of κ.', example: '0.01', min: 0, max: 0.5, unit: 'mm per mm', optional: true })
  diameterRatioU?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'One string from surface to 1,950 m', max: 2000, optional: true })
  note?: string | null;
}

/** The string's own fields of an answer. */
export class CasingStringContent extends OmitType(
  CasingStringInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class CasingStringAnswer extends IntersectionType(RecordAnswer, CasingStringContent) {}
