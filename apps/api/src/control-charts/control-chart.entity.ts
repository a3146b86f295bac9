import { Check, Column } from 'typeorm';
import type { ChartKind } from '#libs/charting';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { ChartedCharacteristic, ChartLeaveOut, ChartRule, ChartSpecification, ControlChartPlan, ReactionPlan, SubgroupPlan } from './control-chart-plan.js';

const OF_READINGS = "('mean-range', 'mean-deviation', 'between-within', 'individuals', 'long-term', 'batch-means', 'residuals', 'ewma', 'cusum')";

/** What of the pipe of a string is charted, how its readings are put together and charted, and what to do when the chart signals. */
@RecordTable('control_chart', { stringId: 'casing_string' })
@Check('ck_control_chart_code', "code ~ '^[A-Z0-9][A-Z0-9.-]{0,19}$'")
@Check('ck_control_chart_fits', `coalesce(case
  when chart in ${OF_READINGS} then characteristic ->> 'of' in ('inspected', 'splice-reading', 'coil-reading', 'channel', 'reference-amplitude', 'counter-ratio')
  when chart in ('p', 'np', 'adjusted-p') then characteristic ->> 'of' = 'rejected-inspections'
  when chart in ('c', 'u', 'adjusted-u') then characteristic ->> 'of' in ('indications', 'repairs')
  when chart in ('t', 'g') then characteristic ->> 'of' = 'between-indications'
  when chart = 't-squared' then characteristic ->> 'of' = 'channel' end, false)`)
@Check('ck_control_chart_subgroup', `(subgroup is not null) = (chart in ${OF_READINGS})`)
@Check('ck_control_chart_size', `subgroup is null or coalesce((subgroup ->> 'size')::int4, 0)
  between case when chart in ('mean-range', 'mean-deviation', 'between-within') then 2 else 1 end and 25`)
@Check('ck_control_chart_tuning', `num_nonnulls(lambda, width) = case when chart = 'ewma' then 2 else 0 end
  and num_nonnulls(k, h) = case when chart = 'cusum' then 2 else 0 end
  and (batch_size is not null) = (chart = 'batch-means') and (alpha is not null) = (chart = 't-squared')`)
@Check('ck_control_chart_tuned', `lambda > 0 and lambda <= 1 and width > 0 and width <= 6 and k >= 0 and h > 0
  and batch_size between 2 and 1000 and alpha between 0.0001 and 0.05`)
@Check('ck_control_chart_rules', "(cardinality(rules) = 0) = (chart in ('ewma', 'cusum', 't', 'g', 't-squared'))")
@Check('ck_control_chart_specification', 'specification is null or subgroup is not null')
@IndexByName('uq_control_chart_code')
@IndexByName('ix_control_chart_known_from')
export class ControlChart extends StringRecordVersion implements ControlChartPlan {
  @Column({ type: 'text' })
  code!: string;

  @Column({ type: 'text' })
  title!: string;

  @Column({ type: 'jsonb' })
  characteristic!: ChartedCharacteristic;

  @Column({ type: 'text' })
  unit!: string;

  @Column({ type: 'jsonb', nullable: true })
  subgroup!: SubgroupPlan | null;

  @Column({ type: 'jsonb' })
  leaveOut!: ChartLeaveOut;

  @Column({ type: 'text' })
  chart!: ChartKind;

  @Column({ type: 'text', array: true })
  rules!: readonly ChartRule[];

  @Column({ type: 'numeric', nullable: true })
  lambda!: string | null;

  @Column({ type: 'numeric', nullable: true })
  width!: string | null;

  @Column({ type: 'numeric', nullable: true })
  k!: string | null;

  @Column({ type: 'numeric', nullable: true })
  h!: string | null;

  @Column({ type: 'int4', nullable: true })
  batchSize!: number | null;

  @Column({ type: 'numeric', nullable: true })
  alpha!: string | null;

  @Column({ type: 'jsonb', nullable: true })
  specification!: ChartSpecification | null;

  @Column({ type: 'jsonb' })
  reaction!: ReactionPlan;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
