import type { SampleBlock } from '#libs/indications';
import { IntervalSet, type Interval } from '#libs/intervals';

/** A block in which the samples of some pipe are missing ones; the block itself where it has none there. */
export function withoutValues(block: SampleBlock, pipe: IntervalSet): SampleBlock {
  const { positionsMm, values } = block;
  const within = partsOf(block, pipe.intervals).filter(({ inside }) => inside >= 0);
  if (within.length === 0) return block;
  const kept = values.slice();
  for (const { from, to } of within) kept.fill(Number.NaN, from, to);
  return { positionsMm, values: kept, bounds: block.bounds };
}

/** Samples that follow one another, all in one interval, or in none (`inside` is −1). */
export interface BlockPart {
  readonly inside: number;
  readonly from: number;
  readonly to: number;
}

/** A block cut where its footage goes into an interval, or out of one; the intervals are in order and apart. */
export function partsOf({ positionsMm }: SampleBlock, intervals: readonly Interval[]): BlockPart[] {
  const parts: BlockPart[] = [];
  let next = 0;
  for (let from = 0; from < positionsMm.length;) {
    const atMm = positionsMm[from] as number;
    while (next < intervals.length && (intervals[next] as Interval).toMm <= atMm) next += 1;
    const ahead = intervals[next];
    const isInside = ahead !== undefined && ahead.fromMm <= atMm;
    const to = firstFrom(positionsMm, from, ahead === undefined ? Number.POSITIVE_INFINITY : isInside ? ahead.toMm : ahead.fromMm);
    parts.push({ inside: isInside ? next : -1, from, to });
    from = to;
  }
  return parts;
}

/** Index of the first sample at a footage or beyond it. */
function firstFrom(positionsMm: Int32Array, from: number, atMm: number): number {
  let [low, high] = [from, positionsMm.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((positionsMm[middle] as number) < atMm) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The samples of a part; they share the memory of the block. */
export function partOf({ positionsMm, values, bounds }: SampleBlock, { from, to }: BlockPart): SampleBlock {
  return { positionsMm: positionsMm.subarray(from, to), values: values.subarray(from, to), bounds: bounds?.subarray(from, to) ?? null };
}

/** Collects the pipe for which samples that are not missing speak, each up to the next one and at most `pitchMm`. */
export class SpokenPipe {
  private readonly spoken: Interval[] = [];
  private fromMm = Number.NaN;
  private toMm = Number.NEGATIVE_INFINITY;
  private lastMm = Number.NEGATIVE_INFINITY;

  constructor(private readonly pitchMm: number) {}

  /** The missing ones speak for nothing, whatever bound they have, and end what the one before them speaks for. */
  add({ positionsMm, values }: SampleBlock): void {
    for (let index = 0; index < positionsMm.length; index += 1) {
      const atMm = positionsMm[index] as number;
      if (Number.isNaN(values[index])) {
        if (atMm < this.toMm) this.toMm = Math.max(atMm, this.lastMm + 1);
        continue;
      }
      if (atMm > this.toMm) this.begin(atMm);
      this.lastMm = atMm;
      this.toMm = atMm + this.pitchMm;
    }
  }

  pipe(): IntervalSet {
    return IntervalSet.from(this.toMm === Number.NEGATIVE_INFINITY ? [] : [...this.spoken, { fromMm: this.fromMm, toMm: this.toMm }]);
  }

  private begin(atMm: number): void {
    if (this.toMm !== Number.NEGATIVE_INFINITY) this.spoken.push({ fromMm: this.fromMm, toMm: this.toMm });
    this.fromMm = atMm;
  }
}
