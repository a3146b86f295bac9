import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Part, Text, YesNo } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';
import { TimeLeftAnswer } from '../time-left/time-left.dto.js';

/** Why what showed is nothing of the pipe. */
export const NOT_RELEVANT_CAUSES = ['splice', 'stop', 'noise', 'geometry', 'other'] as const;
export const EVALUATION_VERDICTS = ['accept', 'repair', 'cut-out', 'mark', 'hold', 're-inspect'] as const;
/** Levels of ISO 9712. */
export const PERSON_LEVELS = ['1', '2', '3'] as const;

const WALL = { min: 0, max: 100, unit: 'mm' };

/**
 * What a person made of an indication. Several may be made of one, and all are kept; the last one stands. `doneBy` is who
 * evaluated, `observedAt` the moment of the decision.
 */
export class IndicationEvaluationInput extends StringRecordInput {
  @Id({ description: 'The indication.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b73' })
  indicationId!: string;

  @YesNo({ description: 'It is of an imperfection of the pipe.', example: true })
  relevant!: boolean;

  @Choice({ description: 'What else it is of; only and always where it is not relevant.', example: null, of: NOT_RELEVANT_CAUSES, optional: true })
  cause?: (typeof NOT_RELEVANT_CAUSES)[number] | null;

  @Text({ description: 'The same in words; needed beside `other`.', example: null, max: 500, optional: true })
  causeWords?: string | null;

  @Choice({ description: 'The method it was proved up by, as ISO 9712 abbreviates it.', example: 'UT', of: EXAMINATION_METHODS, optional: true })
  method?: (typeof EXAMINATION_METHODS)[number] | null;

  @Text({ description: 'The technique, with its revision; only beside a method.', example: 'UT-07 rev 1', max: 80, optional: true })
  technique?: string | null;

  @Id({ description: 'The instrument that depth, length or wall was measured with.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  instrumentId?: string | null;

  @Measured({ description: 'Depth, digits as read.', example: '0.30', ...WALL, optional: true })
  measuredDepthMm?: string | null;

  @Measured({ description: 'Length along the pipe, digits as read.', example: '38', min: 0, max: 1e6, unit: 'mm', optional: true })
  measuredLengthMm?: string | null;

  @Measured({ description: 'Least wall that is left, digits as read.', example: '4.67', ...WALL, optional: true })
  remainingWallMm?: string | null;

  @Text({ description: 'Document, revision and clause that set the limit; only and always beside one.', example: 'Pipe inspection plan rev 2, 6.2', max: 200, optional: true })
  limitText?: string | null;

  @Measured({ description: 'The least wall that it allows; only beside the wall that is left.', example: '4.50', ...WALL, optional: true })
  limitMinWallMm?: string | null;

  @Measured({ description: 'The greatest depth that it allows; only beside a depth.', example: null, ...WALL, optional: true })
  limitMaxDepthMm?: string | null;

  @Choice({ description: 'The verdict.', example: 'accept', of: EVALUATION_VERDICTS })
  verdict!: (typeof EVALUATION_VERDICTS)[number];

  @Choice({ description: 'The level at which the person evaluated, as ISO 9712 has them.', example: '2', of: PERSON_LEVELS })
  level!: (typeof PERSON_LEVELS)[number];

  @Id({ description: 'The repair that was made of it.', example: null, optional: true })
  repairId?: string | null;

  @Id({ description: 'The cut-out that took it.', example: null, optional: true })
  cutOutId?: string | null;

  @Id({ description: 'The examination that it was proved up or inspected again by.', example: null, optional: true })
  examinationId?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The evaluation's own fields of an answer. */
export class IndicationEvaluationContent extends OmitType(IndicationEvaluationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {
  @Part({ description: 'What was left to the hang-off at the moment of decision, taken by the server when it was entered; no amendment changes it.', of: () => TimeLeftAnswer })
  timeLeft!: TimeLeftAnswer;
}

export class IndicationEvaluationAnswer extends IntersectionType(RecordAnswer, IndicationEvaluationContent) {}
