import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Computed, Measured, Text, When, Whole } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { FOOTAGE_LIMIT_MM } from './placed.dto.js';

export class CounterPeriodInput extends StringRecordInput {
  @When({ description: 'When the period begins; an earlier open one of the counter ends there.', example: '2026-03-02T06:00:00Z' })
  override observedAt!: string;

  @When({ description: 'When it ends; absent while it is open.', example: null, optional: true })
  until?: string | null;

  @Text({ description: 'Which counter; the master counter when absent.', example: 'main', max: 40, optional: true })
  counter?: string | null;

  @Measured({ description: 'What the counter said at the beginning.', example: '0', min: -1e9, max: 1e9, unit: 'counts' })
  startReading!: string;

  @Whole({
    description: 'The footage at the weld point at the beginning, where it was established otherwise.',
    example: 0, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true,
  })
  startFootageMm?: number | null;

  @Measured({
    description: 'What the counter said last in the period before, where this one continues it.',
    example: null, min: -1e9, max: 1e9, unit: 'counts', optional: true,
  })
  previousEndReading?: string | null;

  @Measured({ description: 'Pipe for each count.', example: '1.0000', min: 1e-6, max: 1e6, unit: 'mm per count' })
  scaleMmPerCount!: string;

  @Measured({ description: 'Relative standard uncertainty of the scale.', example: '0.0005', min: 0, max: 0.5, unit: 'mm per mm' })
  scaleRelativeU!: string;

  @Text({ description: 'The measuring wheel.', example: 'W-2', max: 60, optional: true })
  wheel?: string | null;

  @Text({ description: 'Why the period began.', example: 'Wheel changed and scale taped over 20 m', max: 2000, optional: true })
  note?: string | null;
}

/** The period's own fields of an answer. */
export class CounterPeriodContent extends OmitType(
  CounterPeriodInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {
  @Computed({ description: 'The footage it starts at, mm, derived: as established, or where the period before ended.', example: 0 })
  derivedStartFootageMm!: number;
}

export class CounterPeriodAnswer extends IntersectionType(RecordAnswer, CounterPeriodContent) {}
