import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { Boundaries } from './boundaries.js';
import { Exclusions } from './exclusions.js';
import { checkWindow, type Boundary, type Exclusion } from './plan.js';
import type { LeftOutPipe } from './windows.js';

/** Pipe over which one point counts. */
export interface CountedLength {
  readonly place: Interval;
  /** What of it is not left out: the opportunity is its length. */
  readonly pipe: IntervalSet;
  /** A boundary lies between it and the length before it. */
  readonly beginsAnew: boolean;
}

/**
 * Divides pipe into lengths to count over: of `windowMm` each from the beginning of each stretch between two boundaries on, the last
 * of a stretch being what remains, and each less what is left out of it. One of which nothing remains is told with the reason.
 * @param asked whole mm, half-open: lengths that reach beyond it are cut
 * Throws RangeError unless `windowMm` is whole mm from 1 on.
 */
export function lengthsOf(asked: Interval, boundaries: readonly Boundary[], exclusions: readonly Exclusion[], windowMm: number): { readonly lengths: readonly CountedLength[]; readonly leftOut: readonly LeftOutPipe[] } {
  checkWindow(windowMm);
  const [between, excluded] = [new Boundaries(boundaries), new Exclusions(exclusions)];
  const lengths: CountedLength[] = [];
  const leftOut: LeftOutPipe[] = [];
  for (const place of between.stretchesOf(asked).flatMap((stretch) => piecesOf(stretch, asked, windowMm))) {
    const pipe = IntervalSet.of(place).subtract(excluded.pipe);
    const before = lengths.at(-1)?.place ?? null;
    if (pipe.isEmpty) leftOut.push({ place, because: excluded.reasonAt(place) ?? '' });
    else lengths.push({ place, pipe, beginsAnew: before !== null && between.upTo(before.fromMm) !== between.upTo(place.fromMm) });
  }
  return { lengths, leftOut };
}

function piecesOf(stretch: Interval, asked: Interval, windowMm: number): Interval[] {
  const pieces: Interval[] = [];
  const skipped = Math.max(0, Math.floor((asked.fromMm - stretch.fromMm) / windowMm));
  for (let fromMm = stretch.fromMm + skipped * windowMm; fromMm < stretch.toMm; fromMm += windowMm) {
    pieces.push(interval(Math.max(fromMm, asked.fromMm), Math.min(fromMm + windowMm, stretch.toMm)));
  }
  return pieces;
}
