import { type Calibration, inOrder } from './calibration.js';
import type { TimeSpan } from './doubt-of-calibration.js';
import { type FoundDeviation, judged } from './tolerance.js';

/** A span of use after a calibration that left the instrument out of tolerance, or not shown to be in it. */
export interface LeftOutSpan extends TimeSpan {
  readonly from: string;
  /** Id of that calibration. */
  readonly leftBy: string;
  /** What was not in tolerance then. */
  readonly deviations: readonly FoundDeviation[];
}

/**
 * The spans from a calibration that left the instrument out of tolerance to the next one, or without end, but for those that
 * the next one found it out in: they are among `doubtfulSpans`. The list may come in any order. Throws as `inOrder` does.
 */
export function leftOutSpans(calibrations: readonly Calibration[]): readonly LeftOutSpan[] {
  const all = inOrder(calibrations).map(judged);
  return all.flatMap(({ calibration, left, leftOutside }, index): LeftOutSpan[] => {
    const next = all[index + 1];
    if (left === 'in' || next?.found === 'out' || next?.found === 'not-shown') return [];
    return [{ from: calibration.instant, to: next?.calibration.instant ?? null, leftBy: calibration.id, deviations: leftOutside }];
  });
}
