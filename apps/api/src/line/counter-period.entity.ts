import { Check, Column, Exclusion } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion, type TimeSpan } from '#libs/persistence';

/** A stretch of time in which a counter had one start and one scale. `observedAt` is its beginning. */
@RecordTable('counter_period', { stringId: 'casing_string' })
@Check('ck_counter_period_start', '(previous_end_reading is null) <> (start_given_mm is null)')
@Check('ck_counter_period_scale', 'scale_mm_per_count > 0 and scale_relative_u >= 0')
@Check('ck_counter_period_during', 'not isempty(during) and not lower_inf(during)')
@Exclusion(
  'xc_counter_period_during',
  "using gist (string_id with =, counter with =, during with &&) where (known_until is null and state = 'active')",
)
@IndexByName('ix_counter_period_string_id')
@IndexByName('ix_counter_period_known_from')
export class CounterPeriodVersion extends StringRecordVersion {
  @Column({ type: 'text' })
  counter!: string;

  @Column({ type: 'tstzrange' })
  during!: TimeSpan;

  @Column({ type: 'numeric' })
  startReading!: string;

  /** What the counter said last in the period before, when this one continues it. */
  @Column({ type: 'numeric', nullable: true })
  previousEndReading!: string | null;

  /** The footage it starts at, when that was established otherwise. */
  @Column({ type: 'int8', nullable: true })
  startGivenMm!: number | null;

  /** Derived: the footage it starts at, mm. */
  @Column({ type: 'numeric' })
  startFootageMm!: string;

  @Column({ type: 'numeric' })
  scaleMmPerCount!: string;

  @Column({ type: 'numeric' })
  scaleRelativeU!: string;

  @Column({ type: 'text', nullable: true })
  wheel!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
