import { Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** A hole in the ground and the datum its depths count from. */
@RecordTable('well')
@IndexByName('uq_well_name')
export class Well extends RecordVersion {
  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text' })
  datum!: string;

  /** By the name of the time zone database. */
  @Column({ type: 'text' })
  timeZone!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
