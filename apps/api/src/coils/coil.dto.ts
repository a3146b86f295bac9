import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Measured, Text, Whole } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

/** Common practice, no published source: no coil of strip comes near 100 km. */
const LONGEST_STRIP_MM = 100_000_000;

export class CoilInput extends RecordInput {
  @Text({ description: 'The number on its tag, unique.', example: 'LM-01', max: 60 })
  number!: string;

  @Id({ description: 'The heat.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05' })
  heatId!: string;

  @Id({ description: 'The certificate.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06', optional: true })
  certificateId?: string | null;

  @Id({ description: 'The order: it says by which revision of which specification the coil is judged.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b20', optional: true })
  orderId?: string | null;

  @Text({ description: 'The master coil it was slit from.', example: 'M-5117', max: 60, optional: true })
  masterCoil?: string | null;

  @Measured({ description: 'Strip width.', example: '383.0', min: 20, max: 2500, unit: 'mm' })
  widthMm!: string;

  @Measured({ description: 'Strip thickness.', example: '5.00', min: 0.5, max: 30, unit: 'mm' })
  thicknessMm!: string;

  @Measured({ description: 'Mass.', example: '9850', min: 20, max: 45_000, unit: 'kg' })
  massKg!: string;

  @Whole({ description: 'Strip length as stated.', example: 655_000, min: 1, max: LONGEST_STRIP_MM, unit: 'mm', optional: true })
  lengthMm?: number | null;

  @Whole({ description: 'Strip cropped from its ends; 0 when absent.', example: 1200, min: 0, max: LONGEST_STRIP_MM, unit: 'mm', optional: true })
  cropMm?: number | null;

  @Whole({ description: 'Strip left over; 0 when absent.', example: 0, min: 0, max: LONGEST_STRIP_MM, unit: 'mm', optional: true })
  restMm?: number | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Edge mark at 14 m from the head', max: 2000, optional: true })
  note?: string | null;
}

/** The coil's own fields of an answer. */
export class CoilContent extends OmitType(CoilInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class CoilAnswer extends IntersectionType(RecordAnswer, CoilContent) {}
