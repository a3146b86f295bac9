import { Column } from 'typeorm';
import type { Interval } from '#libs/intervals';
import { StringRecordVersion } from '#libs/persistence';
import type { GivenInterval, RestsOn } from './given-place.js';

/**
 * A record placed on the pipe. What was given of its place stays as given; the footage is derived from it and derived
 * again, in a new version, when a counter period, a line set-up or a cut-out it rests on changes.
 */
export abstract class PlacedVersion extends StringRecordVersion {
  @Column({ type: 'jsonb' })
  given!: GivenInterval;

  /** Footage, half-open, mm. */
  @Column({ type: 'int8range' })
  span!: Interval;

  /** Standard uncertainty of the lower end, mm. */
  @Column({ type: 'numeric' })
  fromUMm!: string;

  /** Standard uncertainty of the upper end, mm. */
  @Column({ type: 'numeric' })
  toUMm!: string;

  /** Derived at a station upstream of the weld point: to be confirmed when the pipe is made. */
  @Column({ type: 'boolean' })
  predicted!: boolean;

  @Column({ type: 'jsonb' })
  restsOn!: readonly RestsOn[];
}
