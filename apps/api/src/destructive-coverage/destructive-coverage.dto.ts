import { UNIT_STATES, type UnitState } from '#libs/tube-tests';
import { TEST_KINDS, TEST_OUTCOMES, type TestKind } from '../destructive-tests/destructive-test.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';

const RULES = ['coil-ends', 'stop-sides', 'every-length', 'coupon'] as const;

/** Metres of pipe: how many, and which. */
export class MetresAnswer {
  @Computed({ description: 'Their sum, mm.', example: 50_000 })
  lengthMm!: number;

  @Parts({ description: 'Where, by footage.', of: () => IntervalAnswer, max: 100_000 })
  intervals!: IntervalAnswer[];
}

/** Where samples are demanded, and what they stand for. */
export class SamplingRuleAnswer {
  @Choice({ description: 'The rule.', example: 'coil-ends', of: RULES })
  rule!: (typeof RULES)[number];

  @Text({ description: 'In words.', example: 'Both ends of each coil.', max: 1000 })
  words!: string;

  @Text({ description: 'The plan that demands it, or that it is a starting value.', example: 'SP-1 revision 1', max: 100 })
  by!: string;

  @Text({ description: 'Where it comes from.', example: 'STS-12 rev 3, clause 7.4', max: 1000 })
  source!: string;
}

/** A sampling plan and the pipe that it is in force for. */
export class PlanInForceAnswer {
  @Part({ description: 'The revision; null: none was in force, and the starting values apply.', of: () => RecordLink, optional: true })
  plan!: RecordLink | null;

  @Part({ description: 'The record that assigned it to the string.', of: () => RecordLink, optional: true })
  assignment!: RecordLink | null;

  @Text({ description: 'The first local day of it.', example: '2026-03-01', max: 10, optional: true })
  fromDay!: string | null;

  @Part({ description: 'Pipe of the coils whose first entry is of a day on which it was in force, without what was cut out.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Text({ description: 'In words.', example: 'SP-1 revision 1, in force from 2026-03-01', max: 400 })
  words!: string;
}

/** A place at which the seam weld stopped. */
export class SampledStopAnswer {
  @Computed({ description: 'Footage at the weld point, mm.', example: 212_700 })
  atMm!: number;

  @Computed({ description: 'Expanded uncertainty (k = 2), mm; null where only samples name the stop.', example: 26, optional: true })
  plusMinusMm!: number | null;

  @Parts({ description: 'The seam events that record it; none where only samples name it.', of: () => RecordLink, max: 1000 })
  recordedBy!: RecordLink[];

  @YesNo({ description: 'False where no coil\'s pipe is on record: its sides cannot be judged.', example: true })
  isOnPipe!: boolean;
}

/** One result. */
export class TestResultAnswer {
  @Part({ description: 'The test, by its sample and which one of it.', of: () => RecordLink })
  test!: RecordLink;

  @When({ description: 'When it was made.', example: '2026-03-02T08:15:00.000000Z' })
  at!: string;

  @Choice({ description: 'Its outcome; void counts for nothing.', example: 'pass', of: TEST_OUTCOMES })
  outcome!: (typeof TEST_OUTCOMES)[number];

  @Text({ description: 'Why it is void.', example: null, max: 2000, optional: true })
  voidReason!: string | null;

  @Text({ description: 'The result that it follows.', example: null, max: 200, optional: true })
  follows!: string | null;
}

/** A sample of one kind of test, what metres it stands for, and how its results stand. */
export class CoveringSampleAnswer {
  @Part({ description: 'The sample.', of: () => RecordLink })
  sample!: RecordLink;

  @Text({ description: 'Where it was cut.', example: 'head of coil LM-03', max: 300 })
  cut!: string;

  @Part({ description: 'What it stands for, without pipe that was cut out.', of: () => MetresAnswer })
  represents!: MetresAnswer;

  @Parts({ description: 'By which rules; none when it stands for nothing.', of: () => SamplingRuleAnswer, max: 4 })
  rules!: SamplingRuleAnswer[];

  @YesNo({ description: 'False when its tests are all void: it stands for nothing.', example: true })
  counts!: boolean;

  @Choice({ description: 'How it stands with its retests, on whatever sample they were made. A pass never erases a fail.', example: 'failed, retests passed', of: UNIT_STATES })
  state!: UnitState;

  @Text({ description: 'Why.', example: 'TS-14/1 failed, retests TS-15/1, TS-16/1 passed', max: 4000 })
  because!: string;

  @Text({ description: 'What retests are demanded, and where that comes from.', example: '2 passing retests for each failure; source: SP-1 revision 1: STS-12 rev 3, clause 7.4', max: 1000 })
  retestRule!: string;

  @Parts({ description: 'Its own results, oldest first.', of: () => TestResultAnswer, max: 1000 })
  results!: TestResultAnswer[];
}

/** Metres in one state. */
export class StateMetresAnswer {
  @Choice({ description: 'The worst state of the samples that stand for them.', example: 'passed', of: UNIT_STATES })
  state!: UnitState;

  @Part({ description: 'The metres.', of: () => MetresAnswer })
  metres!: MetresAnswer;
}

/** An end at which a sample is demanded and none is on record. */
export class UnsampledEndAnswer {
  @Computed({ description: 'Footage, mm.', example: 859_400 })
  atMm!: number;

  @Choice({ description: 'On which side of it the pipe lies.', example: 'before', of: ['before', 'after'] })
  pipeLies!: 'before' | 'after';

  @Text({ description: 'In words.', example: 'no sample at the last end of coil LM-03, at 859400 mm', max: 300 })
  words!: string;

  @YesNo({ description: 'The pipe of this end was cut out since.', example: false })
  isCutOut!: boolean;
}

/** What one kind of test says of a string. */
export class TestCoverageAnswer {
  @Choice({ description: 'The test.', example: 'flattening', of: TEST_KINDS })
  test!: TestKind;

  @Parts({ description: 'Where samples are demanded, plan by plan; none where no frequency is set.', of: () => SamplingRuleAnswer, max: 1000 })
  plan!: SamplingRuleAnswer[];

  @Texts({ description: 'What that rests on, plan by plan.', example: ['SP-1 revision 1, in force from 2026-03-01, demands the samples.'], max: 1000, each: 400 })
  basis!: string[];

  @Parts({ description: 'The samples, by number.', of: () => CoveringSampleAnswer, max: 100_000 })
  samples!: CoveringSampleAnswer[];

  @Part({ description: 'Pipe of the coils that at least one sample stands for, whatever became of it.', of: () => MetresAnswer })
  represented!: MetresAnswer;

  @Parts({ description: 'The same by state.', of: () => StateMetresAnswer, max: 4 })
  byState!: StateMetresAnswer[];

  @Part({ description: 'Pipe of the coils that no sample stands for.', of: () => MetresAnswer })
  missing!: MetresAnswer;

  @Parts({ description: 'Ends at which a sample is demanded and none counts.', of: () => UnsampledEndAnswer, max: 100_000 })
  unsampledEnds!: UnsampledEndAnswer[];
}

export class DestructiveCoverageAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @When({ description: 'As known at; null: now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Part({ description: 'Pipe of the coils, without what was cut out.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Parts({ description: 'The sampling plans that were in force for it, as known at the instant asked about.', of: () => PlanInForceAnswer, max: 1000 })
  plans!: PlanInForceAnswer[];

  @Parts({ description: 'Stops of the seam weld, by footage.', of: () => SampledStopAnswer, max: 100_000 })
  stops!: SampledStopAnswer[];

  @Parts({ description: 'Test by test.', of: () => TestCoverageAnswer, max: 10 })
  tests!: TestCoverageAnswer[];

  @Parts({ description: 'Samples of which no test is on record.', of: () => RecordLink, max: 100_000 })
  untested!: RecordLink[];

  @Text({ description: 'What metres between samples rest on.', example: 'Only the sampled pieces were tested.', max: 400 })
  inference!: string;

  @Text({ description: 'What the frequencies are.', example: 'The frequency is a starting value.', max: 1000 })
  caution!: string;
}
