import type { Interval } from '#libs/intervals';
import type { Boundary } from './plan.js';

/** Pipe between two boundaries, or between one and the end of what was asked about. */
export interface Stretch extends Interval {
  /** The boundary that ends it; null where the asked pipe ends first. */
  readonly end: Boundary | null;
}

/** Boundaries in rising order, ready to be asked. */
export class Boundaries {
  private readonly sorted: readonly Boundary[];

  /** @param boundaries in any order; several may lie at one place */
  constructor(boundaries: readonly Boundary[]) {
    this.sorted = boundaries.toSorted((one, other) => one.atMm - other.atMm);
  }

  /** How many lie at a place or below it: the same for two places with none between them. */
  upTo(mm: number): number {
    let [low, high] = [0, this.sorted.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.sorted[middle] as Boundary).atMm <= mm) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** The first above a place, or null. */
  after(mm: number): Boundary | null {
    return this.sorted[this.upTo(mm)] ?? null;
  }

  /** The first that lies within a place, its ends not being within; null when none does. */
  within({ fromMm, toMm }: Interval): Boundary | null {
    const next = this.after(fromMm);
    return next !== null && next.atMm < toMm ? next : null;
  }

  /** The stretches that meet some pipe: each from where it truly begins, the last to the end of that pipe or its own. Without a boundary below, pipe begins at 0. */
  stretchesOf({ fromMm, toMm }: Interval): Stretch[] {
    const stretches: Stretch[] = [];
    let from = this.sorted[this.upTo(fromMm) - 1]?.atMm ?? Math.min(0, fromMm);
    while (from < toMm) {
      const end = this.after(from);
      const isEnded = end !== null && end.atMm <= toMm;
      stretches.push({ fromMm: from, toMm: isEnded ? end.atMm : toMm, end: isEnded ? end : null });
      from = isEnded ? end.atMm : toMm;
    }
    return stretches;
  }
}
