import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { NotPlaced, PackedPlace, SawStroke } from './found-place.js';

/** One run of a rule over stored samples, and all that it found. Never amended in what it says. */
@RecordTable('detection', { stringId: 'casing_string', ruleId: 'indication_rule' })
@Check('ck_detection_interval', 'from_mm >= 0 and to_mm > coalesce(from_mm, 0)')
@Check('ck_detection_counts', 'jsonb_array_length(found) = found_count and opened_count between 0 and found_count')
@IndexByName('ix_detection_known_from')
@IndexByName('ix_detection_rule_id')
export class Detection extends StringRecordVersion {
  @Column({ type: 'uuid' })
  ruleId!: string;

  @Column({ type: 'int4' })
  ruleVersion!: number;

  @Column({ type: 'int4', nullable: true })
  fromMm!: number | null;

  @Column({ type: 'int4', nullable: true })
  toMm!: number | null;

  @Column({ type: 'timestamptz' })
  asKnownAt!: string;

  @Column({ type: 'jsonb' })
  saw!: readonly SawStroke[];

  @Column({ type: 'jsonb' })
  notPlaced!: readonly NotPlaced[];

  /** Channels are numbered as in the rule, strokes as in `saw`. */
  @Column({ type: 'jsonb' })
  found!: readonly PackedPlace[];

  @Column({ type: 'int4' })
  foundCount!: number;

  @Column({ type: 'int4' })
  openedCount!: number;
}
