import { IntervalSet, type Interval } from '#libs/intervals';
import type { Exclusion } from './plan.js';

/** Pipe that is left out, ready to be asked. */
export class Exclusions {
  /** All of it. */
  readonly pipe: IntervalSet;

  /** @param exclusions in any order; they may overlap */
  constructor(private readonly exclusions: readonly Exclusion[]) {
    this.pipe = IntervalSet.from(exclusions);
  }

  /** Why a place is left out: the reason of the first exclusion that it meets, as they were given; null where it meets none. */
  reasonAt(place: Interval): string | null {
    if (!this.pipe.overlaps(place)) return null;
    return this.exclusions.find(({ fromMm, toMm }) => fromMm < place.toMm && toMm > place.fromMm)?.because ?? null;
  }

  /** The first position from a place on that is not left out. */
  endFrom(mm: number): number {
    return this.pipe.intervals.find(({ fromMm, toMm }) => fromMm <= mm && toMm > mm)?.toMm ?? mm;
  }
}
