import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

export interface CustodyStep {
  readonly by: string;
  readonly at: string;
  readonly from: string;
  readonly to: string;
}

/** A piece cut from the product to be tested to destruction. */
@RecordTable('test_sample', { stringId: 'casing_string', coilId: 'coil', spliceId: 'splice', seamEventId: 'seam_event' })
@Check('ck_test_sample_origin', 'num_nonnulls(coil_id, stop_footage_mm, footage_mm, splice_id) = 1')
@Check('ck_test_sample_coil_end', '(coil_id is null) = (coil_end is null)')
@Check('ck_test_sample_stop_side', '(stop_footage_mm is null) = (stop_side is null)')
@Check('ck_test_sample_end', "coil_end in ('head', 'tail')")
@Check('ck_test_sample_side', "stop_side in ('before', 'after')")
@Check('ck_test_sample_footage', 'coalesce(stop_footage_mm, footage_mm, 0) >= 0')
@Check('ck_test_sample_orientation', "orientation in ('longitudinal', 'transverse', 'full-section')")
@Check('ck_test_sample_seam_event', 'seam_event_id is null or stop_footage_mm is not null')
@IndexByName('uq_test_sample_number')
@IndexByName('ix_test_sample_string_id')
@IndexByName('ix_test_sample_coil_id')
@IndexByName('ix_test_sample_splice_id')
@IndexByName('ix_test_sample_seam_event_id')
@IndexByName('ix_test_sample_known_from')
export class TestSample extends StringRecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'uuid', nullable: true })
  coilId!: string | null;

  @Column({ type: 'text', nullable: true })
  coilEnd!: 'head' | 'tail' | null;

  @Column({ type: 'int8', nullable: true })
  stopFootageMm!: number | null;

  @Column({ type: 'text', nullable: true })
  stopSide!: 'before' | 'after' | null;

  @Column({ type: 'uuid', nullable: true })
  seamEventId!: string | null;

  @Column({ type: 'int8', nullable: true })
  footageMm!: number | null;

  @Column({ type: 'uuid', nullable: true })
  spliceId!: string | null;

  @Column({ type: 'text' })
  orientation!: 'longitudinal' | 'transverse' | 'full-section';

  @Column({ type: 'jsonb' })
  custody!: readonly CustodyStep[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
