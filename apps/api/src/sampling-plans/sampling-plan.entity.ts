import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';

/** What a plan says of one kind of test; `passingRetestsPerFailure` is null where no retest is allowed. */
export interface PlannedTest {
  readonly test: TestKind;
  readonly rules: readonly { readonly rule: 'coil-ends' | 'stop-sides' | 'every-length'; readonly everyMm: number | null }[];
  readonly retestAllowed: boolean;
  readonly passingRetestsPerFailure: number | null;
  readonly source: string;
}

/** One numbered revision of a sampling plan. Frozen once a string was assigned it. */
@RecordTable('sampling_plan')
@Check('ck_sampling_plan_revision', 'revision >= 1')
@Check('ck_sampling_plan_tests', "jsonb_typeof(tests) = 'array' and jsonb_array_length(tests) > 0")
@IndexByName('uq_sampling_plan_revision')
export class SamplingPlanVersion extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'int4' })
  revision!: number;

  @Column({ type: 'text' })
  title!: string;

  @Column({ type: 'date' })
  effectiveFrom!: string;

  @Column({ type: 'jsonb' })
  tests!: readonly PlannedTest[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
