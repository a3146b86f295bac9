import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { ControlPlanItem } from './control-plan-item.js';

/** Which evidence the pipe of a string needs, from a footage on until that of its next plan. */
@RecordTable('control_plan', { stringId: 'casing_string' })
@Check('ck_control_plan_from', 'from_mm >= 0')
@Check('ck_control_plan_items', "jsonb_typeof(items) = 'array' and jsonb_array_length(items) between 1 and 100")
@IndexByName('uq_control_plan_from_mm')
@IndexByName('ix_control_plan_known_from')
export class ControlPlan extends StringRecordVersion {
  @Column({ type: 'text' })
  document!: string;

  @Column({ type: 'text' })
  revision!: string;

  /** Footage, mm. */
  @Column({ type: 'int4' })
  fromMm!: number;

  @Column({ type: 'jsonb' })
  items!: readonly ControlPlanItem[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
