import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Measured, Text, Texts } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const INSTRUMENT_KINDS = ['gauge', 'reference-standard', 'line-instrument'] as const;

export class InstrumentInput extends RecordInput {
  @Text({ description: 'The number on it.', example: 'MI-07', max: 60 })
  number!: string;

  @Choice({ description: 'gauge: taken along; reference-standard: others are held against it; line-instrument: built into the line.', example: 'gauge', of: INSTRUMENT_KINDS })
  kind!: (typeof INSTRUMENT_KINDS)[number];

  @Text({ description: 'What it is.', example: 'Micrometer, ball anvil', max: 120 })
  name!: string;

  @Texts({ description: 'What it measures.', example: ['thickness', 'wall thickness'], max: 20, each: 60 })
  measures!: string[];

  @Text({ description: 'The unit it shows.', example: 'mm', max: 20 })
  unit!: string;

  @Measured({ description: 'Where its range begins.', example: '0', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  rangeMin?: string | null;

  @Measured({ description: 'Where its range ends.', example: '25', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  rangeMax?: string | null;

  @Measured({ description: 'The least step it shows.', example: '0.001', min: 0.000000001, max: 1e6, unit: 'in its unit', optional: true })
  resolution?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The instrument's own fields of an answer. */
export class InstrumentContent extends OmitType(InstrumentInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class InstrumentAnswer extends IntersectionType(RecordAnswer, InstrumentContent) {}
