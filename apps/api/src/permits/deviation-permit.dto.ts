import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Text, When } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

/** Permission, given before, to use a coil that was not accepted. */
export class DeviationPermitInput extends RecordInput {
  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Id({ description: 'The only string it may be used on; any when absent.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b03', optional: true })
  forStringId?: string | null;

  @Text({ description: 'What is departed from, and why it may be.', example: 'The certificate is asked for at the steelmaker; tag and heat stencil agree, hardness and thickness were measured here.', max: 2000, min: 10 })
  departure!: string;

  @Text({ description: 'Its limit in quantity, scope or use.', example: 'This coil only, above 400 m measured depth', max: 1000, min: 3 })
  limit!: string;

  @When({ description: 'Until when it may be used.', example: '2099-12-31T00:00:00Z' })
  validUntil!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The permit's own fields of an answer. */
export class DeviationPermitContent extends OmitType(DeviationPermitInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class DeviationPermitAnswer extends IntersectionType(RecordAnswer, DeviationPermitContent) {}
