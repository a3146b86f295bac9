import { Column, Entity } from 'typeorm';
import { StringRecordVersion } from '#libs/persistence';

/** What a counter said at `observedAt`. Kept as read; its footage is computed whenever it is asked for. */
@Entity('counter_reading')
export class CounterReading extends StringRecordVersion {
  @Column({ type: 'text' })
  counter!: string;

  @Column({ type: 'numeric' })
  reading!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
