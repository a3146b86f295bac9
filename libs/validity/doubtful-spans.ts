import { type Calibration, inOrder } from './calibration.js';
import { type FoundDeviation, greatestFirst, judged, type JudgedCalibration } from './tolerance.js';

/** A half-open span of time `[from, to)` between calibrations; instants in UTC with six decimals. */
export interface UseSpan {
  /** The calibration that it begins at; null: it reaches back before the first one. */
  readonly from: string | null;
  /** The adjustment that ends it. */
  readonly to: string;
}

/** A span of use in doubt, because the instrument was afterwards found not to be in tolerance. */
export interface DoubtfulSpan extends UseSpan {
  /** Id of the calibration that found it, at `to`: nobody knew before. */
  readonly foundBy: string;
  /** Whether it was found out of tolerance, or not shown to be in it. */
  readonly found: 'out' | 'not-shown';
  /** Instant of the last calibration up to `from` that found or left it in tolerance; null when none did. */
  readonly lastInTolerance: string | null;
  /** All that was not in tolerance then, as found at its end and as left at or after its start, greatest first relative to the tolerance; never empty. */
  readonly deviations: readonly FoundDeviation[];
}

/**
 * The spans in doubt, in order and apart from each other: from the last calibration that left the instrument in tolerance
 * (or found it so) to the adjustment of the next one that found it out (ISO 9001, 7.1.5.2 asks what earlier results that
 * touches). A calibration that found it out and left it out begins the next span. An as-found that was not taken finds
 * nothing; `unclosedSpans` names what it leaves open. The list may come in any order. Throws as `inOrder` does.
 */
export function doubtfulSpans(calibrations: readonly Calibration[]): readonly DoubtfulSpan[] {
  return spansInDoubt(inOrder(calibrations).map(judged));
}

/** The same of calibrations in order and judged. */
export function spansInDoubt(all: readonly JudgedCalibration[]): readonly DoubtfulSpan[] {
  return all.flatMap((one, index) => {
    if (one.found !== 'out' && one.found !== 'not-shown') return [];
    const earlier = all.slice(0, index);
    const start = earlier.findLastIndex(({ left, found }) => left === 'in' || found !== 'not-taken');
    const left = earlier.slice(Math.max(start, 0)).flatMap(({ leftOutside }) => leftOutside);
    const span: DoubtfulSpan = {
      from: earlier[start]?.calibration.instant ?? null,
      to: one.calibration.instant,
      foundBy: one.calibration.id,
      found: one.found,
      lastInTolerance: earlier.findLast(wasInTolerance)?.calibration.instant ?? null,
      deviations: greatestFirst([...one.foundOutside, ...left]),
    };
    return [span];
  });
}

/**
 * The spans from one calibration to the next, or up to the first, that no as-found closed: how far the instrument had
 * drifted by their end is not known, which neither clears nor condemns what was measured. Throws as `inOrder` does.
 */
export function unclosedSpans(calibrations: readonly Calibration[]): readonly UseSpan[] {
  const sorted = inOrder(calibrations);
  return sorted.flatMap(({ asFound, instant }, index) => (asFound === 'not-taken' ? { from: sorted[index - 1]?.instant ?? null, to: instant } : []));
}

function wasInTolerance({ left, found }: JudgedCalibration): boolean {
  return left === 'in' || found === 'in';
}
