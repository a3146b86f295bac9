import { ApiProperty } from '@nestjs/swagger';
import { Computed, Part, Parts, Text } from '../http/fields.js';

const ID = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05';

/** A record that a value was taken from, at the version that was read. */
export class RecordRefAnswer {
  @Text({ description: 'The kind of record.', example: 'counter-period', max: 40 })
  kind!: string;

  @Text({ description: 'The record.', example: ID, max: 80 })
  id!: string;

  @Computed({ description: 'The version read.', example: 1 })
  version!: number;
}

export class ExplainedValueAnswer {
  @Text({ description: 'Its symbol or name.', example: 'n', max: 100 })
  name!: string;

  @ApiProperty({ description: 'The value: a number, or text where it is none.', oneOf: [{ type: 'number' }, { type: 'string' }], example: 59_820 })
  value!: number | string;

  @Text({ description: 'Its unit.', example: 'mm', max: 40, optional: true })
  unit?: string;

  @Part({ description: 'The record it was taken from; absent for a computed value.', of: () => RecordRefAnswer, optional: true })
  record?: RecordRefAnswer;
}

export class ExplanationStepAnswer {
  @Text({ description: 'What is found in this step.', example: 'Net length: footage less what was cut out below it', max: 200 })
  what!: string;

  @Text({ description: 'The formula.', example: 'n = p − Σ (cut-outs below p)', max: 400 })
  formula!: string;

  @Text({ description: 'Where the formula comes from.', example: 'length model of this program', max: 200 })
  source!: string;

  @Parts({ description: 'What went in, with the record of each.', of: () => ExplainedValueAnswer, max: 1000 })
  inputs!: ExplainedValueAnswer[];

  @Part({ description: 'What came out.', of: () => ExplainedValueAnswer })
  result!: ExplainedValueAnswer;
}
