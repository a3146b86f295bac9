import { Column, Entity } from 'typeorm';
import { PlacedVersion } from '../line/placed.entity.js';

/** What an inspector saw or measured on the pipe. */
@Entity('inspection')
export class Inspection extends PlacedVersion {
  @Column({ type: 'text' })
  kind!: 'visual' | 'dimensional';

  @Column({ type: 'text' })
  characteristic!: string;

  @Column({ type: 'numeric', nullable: true })
  value!: string | null;

  @Column({ type: 'text', nullable: true })
  unit!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMin!: string | null;

  @Column({ type: 'numeric', nullable: true })
  limitMax!: string | null;

  @Column({ type: 'text', nullable: true })
  requirement!: string | null;

  @Column({ type: 'text', nullable: true })
  surface!: 'formed-inside' | 'formed-outside' | null;

  @Column({ type: 'numeric', nullable: true })
  clockHours!: string | null;

  @Column({ type: 'text', nullable: true })
  viewing!: 'down-the-hole' | 'up-the-hole' | null;

  @Column({ type: 'text' })
  verdict!: 'accepted' | 'rejected' | 'for-evaluation';

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
