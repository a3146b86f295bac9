import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { REPEATS, SENSES } from './indication-rule.dto.js';

/** Levels are decimal text in the unit of the channel. */
export interface RuleChannel {
  readonly channelId: string;
  readonly sense: (typeof SENSES)[number];
  readonly threshold: string;
  readonly release: string;
  readonly speaksForMm: number | null;
}

/** What makes an indication of samples. Frozen once a detection used it. */
@RecordTable('indication_rule', { stringId: 'casing_string' })
@Check('ck_indication_rule_channels', "jsonb_typeof(channels) = 'array' and jsonb_array_length(channels) > 0")
@Check('ck_indication_rule_lengths', 'least(minimum_length_mm, combining_mm, bridged_gap_mm, joint_mm, splice_margin_mm) >= 0')
@Check('ck_indication_rule_repeats', "repeats in ('all', 'latest')")
@IndexByName('uq_indication_rule_revision')
@IndexByName('ix_indication_rule_known_from')
export class IndicationRuleVersion extends StringRecordVersion {
  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text' })
  revision!: string;

  @Column({ type: 'jsonb' })
  channels!: readonly RuleChannel[];

  @Column({ type: 'int4' })
  minimumLengthMm!: number;

  @Column({ type: 'int4' })
  combiningMm!: number;

  @Column({ type: 'int4' })
  bridgedGapMm!: number;

  @Column({ type: 'int4', nullable: true })
  jointMm!: number | null;

  /** Causes of signal marks. */
  @Column({ type: 'text', array: true })
  excludes!: string[];

  @Column({ type: 'int4', nullable: true })
  spliceMarginMm!: number | null;

  @Column({ type: 'text' })
  repeats!: (typeof REPEATS)[number];

  @Column({ type: 'text', nullable: true })
  requirement!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
