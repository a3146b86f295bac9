import { Column, Entity } from 'typeorm';
import { RecordVersion } from '#libs/persistence';

/** A hole in the ground and the datum its depths count from. */
@Entity('well')
export class Well extends RecordVersion {
  @Column({ type: 'text' })
  name!: string;

  @Column({ type: 'text' })
  datum!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
