import { Check, Column } from 'typeorm';
import type { ChartLimits, ChartWarning } from '#libs/charting';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** A point that limits were taken without, and why. */
export interface RemovedFromLimits {
  /** Footage, half-open; null of a point that has no place on the pipe. */
  readonly fromMm: number | null;
  readonly toMm: number | null;
  /** What people call it; empty where the place says it all. */
  readonly label: string;
  readonly because: string;
}

/** Limits of a control chart that somebody froze and signed for, with the study that they come from. Never amended; withdrawn at most. */
@RecordTable('chart_limits', { stringId: 'casing_string', chartId: 'control_chart' })
@Check('ck_chart_limits_once', "(version = 1 and state = 'active') or (version = 2 and state = 'void')")
@Check('ck_chart_limits_number', 'number >= 1')
@Check('ck_chart_limits_interval', 'applies_from_mm >= 0 and num_nonnulls(from_mm, to_mm) <> 1 and from_mm >= 0 and to_mm > from_mm')
@Check('ck_chart_limits_counted', 'points >= 2 and coils >= 1 and phi between -1 and 1')
@Check('ck_chart_limits_signer', 'version > 1 or done_by = keyed_by')
@Check('ck_chart_limits_lists', "jsonb_typeof(removed) = 'array' and jsonb_typeof(warnings) = 'array'")
@Check('ck_chart_limits_warnings', "(warnings = '[]') = (warnings_accepted_because is null)")
@Check('ck_chart_limits_digest', "study_sha256 = encode(sha256(convert_to(study, 'UTF8')), 'hex')")
@Check('ck_chart_limits_study', `coalesce(study::jsonb -> 'limits' = limits and study::jsonb -> 'warnings' = warnings
  and study::jsonb -> 'chart' @> jsonb_build_object('id', chart_id, 'version', chart_version)
  and study::jsonb -> 'span' = case when from_mm is null then 'null' else jsonb_build_object('fromMm', from_mm, 'toMm', to_mm) end, false)`)
@IndexByName('uq_chart_limits_number')
@IndexByName('ix_chart_limits_chart_id')
@IndexByName('ix_chart_limits_known_from')
export class ChartLimitsVersion extends StringRecordVersion {
  @Column({ type: 'uuid' })
  chartId!: string;

  /** The version of the chart that they are of: the one that stood when they were signed. */
  @Column({ type: 'int4' })
  chartVersion!: number;

  /** Of the limits of the chart, from 1; those that were withdrawn keep theirs. */
  @Column({ type: 'int4' })
  number!: number;

  /** The pipe that the points are of which they come from. Footage, half-open; null where none has a place on the pipe. */
  @Column({ type: 'int4', nullable: true })
  fromMm!: number | null;

  @Column({ type: 'int4', nullable: true })
  toMm!: number | null;

  /** Footage from which on points are held against them. */
  @Column({ type: 'int4' })
  appliesFromMm!: number;

  @Column({ type: 'jsonb' })
  limits!: ChartLimits;

  @Column({ type: 'jsonb' })
  removed!: readonly RemovedFromLimits[];

  /** The lag-1 correlation of the points that they come from; null where these are too few, or do not vary. */
  @Column({ type: 'numeric', nullable: true })
  phi!: string | null;

  /** How many points they come from. */
  @Column({ type: 'int4' })
  points!: number;

  /** From how many coils; null where the points know of none. */
  @Column({ type: 'int4', nullable: true })
  coils!: number | null;

  @Column({ type: 'jsonb' })
  warnings!: readonly ChartWarning[];

  /** Why they were signed in spite of the warnings; null where there are none. */
  @Column({ type: 'text', nullable: true })
  warningsAcceptedBecause!: string | null;

  /** The study signed: canonical JSON (RFC 8785). */
  @Column({ type: 'text' })
  study!: string;

  @Column({ type: 'text' })
  studySha256!: string;

  /** Why, in the words of who signed. */
  @Column({ type: 'text' })
  grounds!: string;

  /** The sentence signed. */
  @Column({ type: 'text' })
  statement!: string;

  @Column({ type: 'text' })
  signerName!: string;

  @Column({ type: 'text', array: true })
  signerRoles!: readonly string[];

  /** How the signer was proved. */
  @Column({ type: 'text' })
  signedBy!: string;
}
