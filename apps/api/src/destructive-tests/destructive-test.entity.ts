import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { ReverseBend, ReverseFlattening } from '#libs/tube-tests';
import type { TEST_OUTCOMES, TestKind } from './destructive-test.dto.js';
import type { FlaringContent, FlatteningContent } from './test-content.js';

export interface TestReading {
  readonly name: string;
  readonly printed: string;
  readonly unit: string;
  readonly min: string | null;
  readonly max: string | null;
}

/** A test that a sample did not survive, and its result. */
@RecordTable('destructive_test', { stringId: 'casing_string', testSampleId: 'test_sample', followsTestId: 'destructive_test' })
@Check('ck_destructive_test_kind', "kind in ('tensile', 'flattening', 'flaring', 'reverse-bend', 'macro', 'hardness')")
@Check('ck_destructive_test_outcome', "outcome in ('pass', 'fail', 'void')")
@Check('ck_destructive_test_void', "(outcome = 'void') = (void_reason is not null)")
@Check('ck_destructive_test_result', "num_nonnulls(readings, stated) = 1 or (outcome = 'void' and num_nonnulls(readings, stated) = 0)")
@Check('ck_destructive_test_follows', 'follows_test_id <> id')
@Check('ck_destructive_test_flattening', "flattening is null or kind = 'flattening'")
@Check('ck_destructive_test_flaring', "flaring is null or kind = 'flaring'")
@Check('ck_destructive_test_reverse_bend', "reverse_bend is null or kind = 'reverse-bend'")
@Check('ck_destructive_test_reverse_flattening', "reverse_flattening is null or kind in ('flattening', 'reverse-bend')")
@Check('ck_destructive_test_one_piece', 'num_nonnulls(flattening, reverse_flattening) <= 1')
@IndexByName('ix_destructive_test_string_id')
@IndexByName('ix_destructive_test_sample_id')
@IndexByName('ix_destructive_test_follows_id')
@IndexByName('ix_destructive_test_known_from')
export class DestructiveTest extends StringRecordVersion {
  @Column({ type: 'uuid' })
  testSampleId!: string;

  @Column({ type: 'text' })
  kind!: TestKind;

  @Column({ type: 'text' })
  method!: string;

  @Column({ type: 'text' })
  laboratory!: string;

  @Column({ type: 'jsonb', nullable: true })
  readings!: readonly TestReading[] | null;

  @Column({ type: 'text', nullable: true })
  stated!: string | null;

  @Column({ type: 'jsonb', nullable: true })
  flattening!: FlatteningContent | null;

  @Column({ type: 'jsonb', nullable: true })
  flaring!: FlaringContent | null;

  @Column({ type: 'jsonb', nullable: true })
  reverseBend!: ReverseBend | null;

  @Column({ type: 'jsonb', nullable: true })
  reverseFlattening!: ReverseFlattening | null;

  @Column({ type: 'text' })
  outcome!: (typeof TEST_OUTCOMES)[number];

  @Column({ type: 'text', nullable: true })
  voidReason!: string | null;

  @Column({ type: 'uuid', nullable: true })
  followsTestId!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
