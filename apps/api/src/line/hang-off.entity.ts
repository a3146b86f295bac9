import { Column, Entity } from 'typeorm';
import { PlacedVersion } from './placed.entity.js';

/** The datum at the well where the turned-back end of the pipe is fixed, from `observedAt` on. */
@Entity('hang_off')
export class HangOffVersion extends PlacedVersion {
  @Column({ type: 'int8' })
  mdMm!: number;

  @Column({ type: 'numeric' })
  mdUMm!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
