import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { RepeatRule } from '#libs/reference-checks';
import type { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';
import type { ChannelMeasure, ThresholdSense } from './channel.dto.js';

/** How far apart samples are. Decimal text. */
export type ChannelSampling = { readonly per: 'length'; readonly everyMm: string } | { readonly per: 'time'; readonly everyMs: string };

export interface ChannelThreshold {
  readonly sense: ThresholdSense;
  /** Decimal text in the unit of the channel. */
  readonly level: string;
}

/** One stream of samples of the line. Decimal text in its unit wherever nothing else is said. */
@RecordTable('channel', { stringId: 'casing_string' })
@Check('ck_channel_name', "name ~ '^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$'")
@Check(
  'ck_channel_measures',
  "measures in ('wall-thickness', 'eddy-current-amplitude', 'ultrasonic-amplitude', 'flux-leakage-amplitude', 'weld-power', 'temperature', 'speed', 'other')",
)
@Check('ck_channel_method', "method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET')")
@Check('ck_channel_method_of', "case when measures like '%-amplitude' then method is not null when measures in ('weld-power', 'temperature', 'speed') then method is null else true end")
@Check('ck_channel_zone', "zone in ('seam', 'heat-affected-zone', 'body', 'whole')")
@Check('ck_channel_clock', 'num_nonnulls(clock_from_deg, clock_to_deg) <> 1 and clock_from_deg between 0 and 360 and clock_to_deg between 0 and 360')
@Check('ck_channel_sampling', "(sampling ->> 'per' = 'length' and sampling ->> 'everyMm' is not null) or (sampling ->> 'per' = 'time' and sampling ->> 'everyMs' is not null)")
@Check('ck_channel_counts', 'stuck_after >= 2 and splice_margin_mm >= 0 and noise_floor_least >= 0')
@Check('ck_channel_repeats', "repeats in ('best', 'latest')")
@Check('ck_channel_checks', 'check_every_minutes >= 1 and check_grace_minutes >= 0')
@IndexByName('uq_channel_name')
@IndexByName('ix_channel_known_from')
export class Channel extends StringRecordVersion {
  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text' })
  measures!: ChannelMeasure;

  @Column({ type: 'text' })
  unit!: string;

  /** Null for what tells of the process. */
  @Column({ type: 'text', nullable: true })
  method!: (typeof EXAMINATION_METHODS)[number] | null;

  @Column({ type: 'text', nullable: true })
  technique!: string | null;

  /** Of the line set-ups; null at the weld point. */
  @Column({ type: 'text', nullable: true })
  station!: string | null;

  @Column({ type: 'text' })
  zone!: 'seam' | 'heat-affected-zone' | 'body' | 'whole';

  @Column({ type: 'text', nullable: true })
  probe!: string | null;

  @Column({ type: 'numeric', nullable: true })
  clockFromDeg!: string | null;

  @Column({ type: 'numeric', nullable: true })
  clockToDeg!: string | null;

  @Column({ type: 'jsonb' })
  sampling!: ChannelSampling;

  @Column({ type: 'jsonb', nullable: true })
  threshold!: ChannelThreshold | null;

  /** Every metre has to be inspected by it. */
  @Column({ type: 'boolean' })
  required!: boolean;

  /** What the device sends when it read nothing. */
  @Column({ type: 'text', array: true })
  missingValues!: string[];

  @Column({ type: 'jsonb' })
  saturatesAt!: { readonly high: string | null; readonly low: string | null };

  @Column({ type: 'jsonb' })
  plausible!: { readonly from: string | null; readonly to: string | null };

  @Column({ type: 'int4', nullable: true })
  stuckAfter!: number | null;

  @Column({ type: 'numeric', nullable: true })
  noiseFloorLeast!: string | null;

  @Column({ type: 'jsonb', nullable: true })
  speedWindow!: { readonly fromMPerMin: string; readonly toMPerMin: string } | null;

  @Column({ type: 'int4', nullable: true })
  spliceMarginMm!: number | null;

  @Column({ type: 'text' })
  repeats!: RepeatRule;

  @Column({ type: 'int4' })
  checkEveryMinutes!: number;

  @Column({ type: 'int4' })
  checkGraceMinutes!: number;

  @Column({ type: 'text', nullable: true })
  checkRuleSource!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
