/** How far a line had run by when. */
export interface Reached {
  /** Microseconds. */
  readonly atUs: number;
  readonly footageMm: number;
}

/** When each footage was first at the weld point, from readings sorted by time; a reversal takes nothing back. */
export class Reach {
  /** The greatest footage up to each reading, so rising. */
  private readonly greatest: readonly number[];

  constructor(private readonly readings: readonly Reached[]) {
    let mostMm = -Infinity;
    this.greatest = readings.map(({ footageMm }) => (mostMm = Math.max(mostMm, footageMm)));
  }

  /** The greatest footage reached, mm; null without a reading. */
  get greatestMm(): number | null {
    return this.greatest.at(-1) ?? null;
  }

  /** Linear between two readings; at the first reading for all that was made before; null for what no reading reached. O(log n). */
  firstUs(footageMm: number): number | null {
    const index = this.firstIndex(footageMm);
    const [before, after] = [this.readings[index - 1], this.readings[index]];
    if (after === undefined) return null;
    if (before === undefined) return after.atUs;
    return before.atUs + (after.atUs - before.atUs) * ((footageMm - before.footageMm) / (after.footageMm - before.footageMm));
  }

  private firstIndex(footageMm: number): number {
    let [low, high] = [0, this.greatest.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.greatest[middle] ?? Infinity) >= footageMm) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}
