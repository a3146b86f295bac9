import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Day, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export class HeatInput extends RecordInput {
  @Text({ description: 'The heat number as printed, unique.', example: 'H40711', max: 60 })
  number!: string;

  @Text({ description: 'Who made the steel.', example: 'Tarnwick Steelworks', max: 120, optional: true })
  steelmaker?: string | null;

  @Text({ description: 'The grade ordered.', example: 'S420MC', max: 60 })
  grade!: string;

  @Day({ description: 'The day it was cast.', example: '2026-01-14', optional: true })
  castOn?: string | null;
}

/** The heat's own fields of an answer. */
export class HeatContent extends OmitType(HeatInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class HeatAnswer extends IntersectionType(RecordAnswer, HeatContent) {}
