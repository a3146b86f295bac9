import { IntersectionType, OmitType } from '@nestjs/swagger';
import { TEST_KINDS, type TestKind } from '../destructive-tests/destructive-test.dto.js';
import { Choice, Day, Parts, Text, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const SAMPLING_RULES = ['coil-ends', 'stop-sides', 'every-length'] as const;

const LONGEST_MM = 100_000_000;

/** Where samples are demanded: both ends of each coil, both sides of each stop of the seam weld, or one every so much pipe. */
export class SamplingRulePart {
  @Choice({ description: 'The rule.', example: 'coil-ends', of: SAMPLING_RULES })
  rule!: (typeof SAMPLING_RULES)[number];

  @Whole({ description: 'Length of pipe, for every-length alone.', example: null, min: 1, max: LONGEST_MM, unit: 'mm', optional: true })
  everyMm?: number | null;
}

/** What the plan says of one kind of test. */
export class PlannedTestPart {
  @Choice({ description: 'The test.', example: 'flattening', of: TEST_KINDS })
  test!: TestKind;

  @Parts({
    description: 'Where samples are demanded; a metre is represented when any of them says so. Empty: no frequency, as for coupons.', of: () => SamplingRulePart, max: 3,
    example: [{ rule: 'coil-ends' }, { rule: 'stop-sides' }],
  })
  rules!: SamplingRulePart[];

  @YesNo({ description: 'False: a failure is final.', example: true })
  retestAllowed!: boolean;

  @Whole({ description: 'Passing retests that each failure needs, where retests are allowed.', example: 2, min: 1, max: 20, unit: '', optional: true })
  passingRetestsPerFailure?: number | null;

  @Text({ description: 'Where it comes from: document, revision, clause.', example: 'STS-12 rev 3, clause 7.4', max: 200 })
  source!: string;
}

/** How often the pipe is sampled for destructive tests, and what follows a failure. Frozen once a string was assigned it. */
export class SamplingPlanInput extends RecordInput {
  @Text({ description: 'Its number.', example: 'SP-1', max: 60 })
  number!: string;

  @Whole({ description: 'The revision; each of a number once.', example: 1, min: 1, max: 999, unit: '' })
  revision!: number;

  @Text({ description: 'What it is for.', example: 'Destructive tests of the main string', max: 200 })
  title!: string;

  @Day({ description: 'Strings may be made by it from this day on.', example: '2025-06-01' })
  effectiveFrom!: string;

  @Parts({ description: 'Test by test; a test that is not here has no frequency.', of: () => PlannedTestPart, min: 1, max: 6 })
  tests!: PlannedTestPart[];

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The plan's own fields of an answer. */
export class SamplingPlanContent extends OmitType(SamplingPlanInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class SamplingPlanAnswer extends IntersectionType(RecordAnswer, SamplingPlanContent) {}
