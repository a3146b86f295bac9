import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

export interface CrewMember {
  readonly personId: string;
  readonly duty: string;
}

/** A crew's stretch of work on a string. `observedAt` is its beginning. */
@RecordTable('shift', { stringId: 'casing_string' })
@Check('ck_shift_until', 'until > observed_at')
@Check('ck_shift_crew', "jsonb_typeof(crew) = 'array' and crew <> '[]'::jsonb")
@IndexByName('ix_shift_crew')
@IndexByName('ix_shift_known_from')
export class Shift extends StringRecordVersion {
  @Column({ type: 'text' })
  name!: string;

  /** Null while it runs. */
  @Column({ type: 'timestamptz', nullable: true })
  until!: string | null;

  @Column({ type: 'jsonb' })
  crew!: readonly CrewMember[];

  @Column({ type: 'text', nullable: true })
  weather!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
