import { Check, Column, ForeignKey } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { EXAMINATION_METHODS, MEASURED_OF_SPLICE, SPLICE_STAGES, STEP_OUTCOMES } from './splice-step.dto.js';

export interface StepReading {
  readonly measured: (typeof MEASURED_OF_SPLICE)[number];
  readonly printed: string;
  readonly unit: string;
  readonly min: string | null;
  readonly max: string | null;
  readonly instrumentId: string | null;
}

export interface Examination {
  readonly method: (typeof EXAMINATION_METHODS)[number];
  readonly technique: string;
  readonly outcome: (typeof STEP_OUTCOMES)[number];
  readonly personId: string | null;
  readonly seen: string | null;
}

/** What was done and seen at one stage of a splice. */
@RecordTable('splice_step', { stringId: 'casing_string', spliceId: 'splice' })
@ForeignKey('stored_file', ['chartSha256'], ['sha256'], { name: 'fk_splice_step_chart_sha256' })
@Check('ck_splice_step_stage', "stage in ('preparation', 'flat-strip-release', 'after-forming', 'station-sighting')")
@Check('ck_splice_step_outcome', "outcome in ('accepted', 'held', 'rejected')")
@Check('ck_splice_step_station', "(stage = 'station-sighting') = (station is not null)")
@IndexByName('ix_splice_step_string_id')
@IndexByName('ix_splice_step_splice_id')
@IndexByName('ix_splice_step_readings')
@IndexByName('ix_splice_step_known_from')
export class SpliceStep extends StringRecordVersion {
  @Column({ type: 'uuid' })
  spliceId!: string;

  @Column({ type: 'text' })
  stage!: (typeof SPLICE_STAGES)[number];

  @Column({ type: 'text' })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Column({ type: 'text', nullable: true })
  station!: string | null;

  @Column({ type: 'jsonb' })
  readings!: readonly StepReading[];

  @Column({ type: 'jsonb' })
  examinations!: readonly Examination[];

  @Column({ type: 'text', array: true })
  coupons!: string[];

  @Column({ type: 'text', nullable: true })
  chartSha256!: string | null;

  @Column({ type: 'text', array: true })
  photoSha256s!: string[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
