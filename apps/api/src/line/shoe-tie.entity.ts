import { Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { GivenPlace, RestsOn } from './given-place.js';

/** A time, `observedAt`, at which the shoe's depth and the footage at the weld point are both known. */
@RecordTable('shoe_tie', { stringId: 'casing_string' })
@IndexByName('uq_shoe_tie_at')
@IndexByName('ix_shoe_tie_string_id')
@IndexByName('ix_shoe_tie_known_from')
export class ShoeTieVersion extends StringRecordVersion {
  @Column({ type: 'jsonb' })
  given!: GivenPlace;

  /** Derived from what was given. */
  @Column({ type: 'int8' })
  weldFootageMm!: number;

  @Column({ type: 'numeric' })
  weldUMm!: string;

  @Column({ type: 'jsonb' })
  restsOn!: readonly RestsOn[];

  @Column({ type: 'int8' })
  shoeMdMm!: number;

  @Column({ type: 'numeric' })
  shoeUMm!: string;

  @Column({ type: 'text' })
  method!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
