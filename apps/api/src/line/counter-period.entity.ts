import { Column, Entity } from 'typeorm';
import { StringRecordVersion, type TimeSpan } from '#libs/persistence';

/** A stretch of time in which a counter had one start and one scale. `observedAt` is its beginning. */
@Entity('counter_period')
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
