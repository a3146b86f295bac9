import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from './placed.entity.js';

/** The datum at the well where the turned-back end of the pipe is fixed, from `observedAt` on. */
@RecordTable('hang_off', { stringId: 'casing_string' })
@Check('ck_hang_off_span', 'not isempty(span)')
@IndexByName('uq_hang_off_string_id')
@IndexByName('ix_hang_off_string_id')
@IndexByName('ix_hang_off_known_from')
export class HangOffVersion extends PlacedVersion {
  @Column({ type: 'int8' })
  mdMm!: number;

  @Column({ type: 'numeric' })
  mdUMm!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
