import { Column, Entity } from 'typeorm';
import { RecordVersion } from '#libs/persistence';

/** One melt of steel: the identity of its chemistry. */
@Entity('heat')
export class Heat extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text', nullable: true })
  steelmaker!: string | null;

  @Column({ type: 'text' })
  grade!: string;

  @Column({ type: 'date', nullable: true })
  castOn!: string | null;
}
