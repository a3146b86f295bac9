import { Check, Column } from 'typeorm';
import type { PanelShows } from '#libs/charting';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { SignalRuleName } from '../charting/chart-design.js';

/** Whether the reading that signals was found to be real. */
export const SIGNAL_READINGS = ['real', 'not-real', 'not-repeated'] as const;
/** What was done; a signal alone is no nonconformance, and what is out of specification is one. */
export const REACTIONS = ['none-needed', 'adjusted', 'stopped', 'nonconformance'] as const;

/** A signal that is answered: its panel and rule, and the point at which it signals. */
export interface AnsweredSignal {
  readonly panel: PanelShows;
  readonly rule: SignalRuleName;
  /** Footage of the point, half-open, mm; null of a point that has no place on the pipe. */
  readonly fromMm: number | null;
  readonly toMm: number | null;
  /** What people call the point; never null where it has no place. */
  readonly label: string | null;
}

/** What was done about signals of a control chart. */
@RecordTable('chart_reaction', {
  stringId: 'casing_string', chartId: 'control_chart', repeatedWithInstrumentId: 'instrument', nonconformanceId: 'nonconformance',
})
@Check('ck_chart_reaction_answers', "case jsonb_typeof(answers) when 'array' then jsonb_array_length(answers) between 1 and 100 else false end")
@Check('ck_chart_reaction_reading', "reading in ('real', 'not-real', 'not-repeated')")
@Check('ck_chart_reaction_action', "action in ('none-needed', 'adjusted', 'stopped', 'nonconformance')")
@Check('ck_chart_reaction_repeated', `(repeated_value is null) = (not_repeated_because is not null)
  and (reading <> 'not-repeated' or repeated_value is null) and (repeated_with_instrument_id is null or repeated_value is not null)`)
@Check('ck_chart_reaction_watch', 'num_nonnulls(watch_from_mm, watch_to_mm) <> 1 and watch_from_mm >= 0 and watch_to_mm > watch_from_mm')
@Check('ck_chart_reaction_did', "action not in ('adjusted', 'stopped') or did is not null")
@Check('ck_chart_reaction_of', "(action = 'nonconformance') = (nonconformance_id is not null)")
@IndexByName('ix_chart_reaction_chart_id')
@IndexByName('ix_chart_reaction_known_from')
@IndexByName('ix_chart_reaction_instrument_id')
@IndexByName('ix_chart_reaction_nonconformance_id')
export class ChartReaction extends StringRecordVersion {
  @Column({ type: 'uuid' })
  chartId!: string;

  /** The limits against which it signalled; they may have been withdrawn since. */
  @Column({ type: 'uuid' })
  limitsId!: string;

  @Column({ type: 'jsonb' })
  answers!: readonly AnsweredSignal[];

  @Column({ type: 'text' })
  reading!: (typeof SIGNAL_READINGS)[number];

  /** Digits as read, in the unit of the chart. */
  @Column({ type: 'numeric', nullable: true })
  repeatedValue!: string | null;

  @Column({ type: 'uuid', nullable: true })
  repeatedWithInstrumentId!: string | null;

  /** Never null where there is no repeated value. */
  @Column({ type: 'text', nullable: true })
  notRepeatedBecause!: string | null;

  /** Pipe that was marked to be watched. Footage, half-open. */
  @Column({ type: 'int4', nullable: true })
  watchFromMm!: number | null;

  @Column({ type: 'int4', nullable: true })
  watchToMm!: number | null;

  @Column({ type: 'text', array: true })
  causesLookedAt!: readonly string[];

  /** The cause that was found; null where none was. */
  @Column({ type: 'text', nullable: true })
  cause!: string | null;

  @Column({ type: 'text' })
  action!: (typeof REACTIONS)[number];

  @Column({ type: 'text', nullable: true })
  did!: string | null;

  @Column({ type: 'uuid', nullable: true })
  nonconformanceId!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
