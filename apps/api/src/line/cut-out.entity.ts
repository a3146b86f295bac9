import { Column, Entity } from 'typeorm';
import { PlacedVersion } from './placed.entity.js';

/** Pipe taken out of the string. `observedAt` is when the ends were joined again: from then on the pipe is shorter. */
@Entity('cut_out')
export class CutOutVersion extends PlacedVersion {
  @Column({ type: 'text' })
  cause!: string;

  /** The piece kept, if any. */
  @Column({ type: 'text', nullable: true })
  piece!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
