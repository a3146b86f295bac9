import { Column, Entity } from 'typeorm';
import type { Interval } from '#libs/intervals';
import { PlacedVersion } from '../line/placed.entity.js';

/** The coil that an interval of pipe was made from. */
@Entity('coil_segment')
export class CoilSegmentVersion extends PlacedVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  /** Strip of the coil from its head, half-open, mm. */
  @Column({ type: 'int8range' })
  stripSpan!: Interval;

  @Column({ type: 'text' })
  runs!: 'head-first' | 'tail-first';

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
