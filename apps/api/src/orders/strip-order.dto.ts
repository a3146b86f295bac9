import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Day, Id, Measured, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export class StripOrderInput extends RecordInput {
  @Text({ description: 'Our order number, unique.', example: 'PO-2025-118', max: 60 })
  number!: string;

  @Text({ description: 'The mill or slitter ordered from.', example: 'Tarnwick Steelworks', max: 120 })
  mill!: string;

  @Day({ description: 'The day it was ordered: the revision in force then is what coils are judged by.', example: '2025-12-04' })
  orderedOn!: string;

  @Id({ description: 'The revision of the strip specification ordered to.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b21' })
  specificationId!: string;

  @Measured({ description: 'Ordered thickness.', example: '5.00', min: 0.5, max: 30, unit: 'mm' })
  thicknessMm!: string;

  @Measured({ description: 'Ordered width.', example: '383.0', min: 20, max: 2500, unit: 'mm' })
  widthMm!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The order's own fields of an answer. */
export class StripOrderContent extends OmitType(StripOrderInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class StripOrderAnswer extends IntersectionType(RecordAnswer, StripOrderContent) {}
