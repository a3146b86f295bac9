import { Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** Permission, given before, to use a coil that was not accepted; with a limit in scope and time. */
@RecordTable('deviation_permit', { coilId: 'coil', forStringId: 'casing_string' })
@IndexByName('ix_deviation_permit_coil_id')
export class DeviationPermit extends RecordVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  @Column({ type: 'uuid', nullable: true })
  forStringId!: string | null;

  @Column({ type: 'text' })
  departure!: string;

  @Column({ type: 'text' })
  limitText!: string;

  @Column({ type: 'timestamptz' })
  validUntil!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
