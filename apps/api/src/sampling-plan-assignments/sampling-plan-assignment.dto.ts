import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Day, Id, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** Which revision of a sampling plan a string is made by, from a day on, until the next one takes its place. */
export class SamplingPlanAssignmentInput extends StringRecordInput {
  @Id({ description: 'The revision of the plan.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61' })
  samplingPlanId!: string;

  @Day({ description: 'The first day, by the time of the site; no other plan of the string is from this day on.', example: '2026-03-01' })
  fromDay!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The assignment's own fields of an answer. */
export class SamplingPlanAssignmentContent extends OmitType(SamplingPlanAssignmentInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class SamplingPlanAssignmentAnswer extends IntersectionType(RecordAnswer, SamplingPlanAssignmentContent) {}
