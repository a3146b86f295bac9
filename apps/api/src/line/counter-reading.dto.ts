import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Measured, Parts, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

export const LARGEST_BATCH = 1000;

export class CounterReadingInput extends StringRecordInput {
  @Text({ description: 'Which counter; the master counter when absent.', example: 'main', max: 40, optional: true })
  counter?: string | null;

  @Measured({ description: 'What the counter said, digits as read.', example: '118500', min: -1e9, max: 1e9, unit: 'counts' })
  reading!: string;

  @Text({ description: 'What else was noticed.', example: 'Line stopped for coil change', max: 2000, optional: true })
  note?: string | null;
}

/** The reading's own fields of an answer. */
export class CounterReadingContent extends OmitType(
  CounterReadingInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class CounterReadingAnswer extends IntersectionType(RecordAnswer, CounterReadingContent) {}

/** Many readings at once, all of one string: all are taken, or none. */
export class CounterReadingBatchInput {
  @Parts({ description: 'The readings, each with an id of its own.', of: () => CounterReadingInput, min: 1, max: LARGEST_BATCH })
  readings!: CounterReadingInput[];
}

export class CounterReadingBatchAnswer {
  @Parts({ description: 'The readings as taken, in the order sent.', of: () => CounterReadingAnswer, max: LARGEST_BATCH })
  readings!: CounterReadingAnswer[];
}
