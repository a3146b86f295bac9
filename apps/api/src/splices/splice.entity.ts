import { Column, Entity } from 'typeorm';
import { PlacedVersion } from '../line/placed.entity.js';

/** The weld that joins the end of one coil's strip to the beginning of the next one's: an interval of the pipe. */
@Entity('splice')
export class SpliceVersion extends PlacedVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'uuid' })
  leavingCoilId!: string;

  @Column({ type: 'uuid' })
  enteringCoilId!: string;

  /** To the strip edge; 90 is a square butt. */
  @Column({ type: 'numeric' })
  angleDeg!: string;

  @Column({ type: 'text' })
  hand!: 'square' | 'left' | 'right';

  /** Its place was seen on the pipe. */
  @Column({ type: 'boolean' })
  confirmed!: boolean;

  @Column({ type: 'text' })
  verdict!: 'open' | 'accepted' | 'in-doubt' | 'rejected';

  @Column({ type: 'text', nullable: true })
  doubt!: string | null;

  /** The pipe that the weld takes by its angle and the width of the entering strip, as known when this was written. */
  @Column({ type: 'int8' })
  pipeLengthMm!: number;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
