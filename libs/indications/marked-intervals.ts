import type { IntervalSet } from '#libs/intervals';
import type { ExcludedSamples } from './indication.js';

type Counts = { -readonly [K in keyof ExcludedSamples]: ExcludedSamples[K] };

/** Walks the excluded intervals in step with samples, and counts what was read in each. */
export class MarkedIntervals {
  private index = 0;
  private readonly counted: Counts[] = [];
  /** The one that is next, or that the walk is in; beyond all pipe when there is none. */
  fromMm = Number.POSITIVE_INFINITY;
  toMm = Number.POSITIVE_INFINITY;

  constructor(private readonly excluded: IntervalSet) {
    this.look();
  }

  next(): void {
    this.index += 1;
    this.look();
  }

  count(isMissing: boolean, reachesThreshold: boolean): void {
    let last = this.counted.at(-1);
    if (last?.fromMm !== this.fromMm) {
      last = { fromMm: this.fromMm, toMm: this.toMm, samples: 0, missingSamples: 0, samplesAtThreshold: 0 };
      this.counted.push(last);
    }
    last.samples += 1;
    if (isMissing) last.missingSamples += 1;
    if (reachesThreshold) last.samplesAtThreshold += 1;
  }

  counts(): readonly ExcludedSamples[] {
    return this.counted.map((one) => ({ ...one }));
  }

  private look(): void {
    const { fromMm, toMm } = this.excluded.intervals[this.index] ?? { fromMm: Number.POSITIVE_INFINITY, toMm: Number.POSITIVE_INFINITY };
    this.fromMm = fromMm;
    this.toMm = toMm;
  }
}
