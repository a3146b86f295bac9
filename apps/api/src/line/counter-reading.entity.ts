import { Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** What a counter said at `observedAt`. Kept as read; its footage is computed whenever it is asked for. */
@RecordTable('counter_reading', { stringId: 'casing_string' })
@IndexByName('ix_counter_reading_at')
@IndexByName('ix_counter_reading_known_from')
export class CounterReading extends StringRecordVersion {
  @Column({ type: 'text' })
  counter!: string;

  @Column({ type: 'numeric' })
  reading!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
