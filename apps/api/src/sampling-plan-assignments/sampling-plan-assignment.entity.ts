import { Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** From which day on a string is sampled by which revision of a plan. */
@RecordTable('sampling_plan_assignment', { stringId: 'casing_string', samplingPlanId: 'sampling_plan' })
@IndexByName('uq_sampling_plan_assignment_day')
@IndexByName('ix_sampling_plan_assignment_string_id')
@IndexByName('ix_sampling_plan_assignment_known_from')
@IndexByName('ix_sampling_plan_assignment_plan_id')
export class SamplingPlanAssignment extends StringRecordVersion {
  @Column({ type: 'uuid' })
  samplingPlanId!: string;

  @Column({ type: 'date' })
  fromDay!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
