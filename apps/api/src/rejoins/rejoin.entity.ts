import { Column, Entity } from 'typeorm';
import { StringRecordVersion } from '#libs/persistence';

/** The weld that joined the pipe again where a piece was cut out. */
@Entity('rejoin')
export class Rejoin extends StringRecordVersion {
  @Column({ type: 'uuid' })
  cutOutId!: string;

  @Column({ type: 'text' })
  procedure!: string;

  @Column({ type: 'text' })
  verdict!: 'open' | 'accepted' | 'rejected';

  @Column({ type: 'text', nullable: true })
  examination!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
