import { type Interval, IntervalSet } from '#libs/intervals';
import { apartMm } from './apart.js';
import { wholeFrom } from './rule.js';

/** An indication that somebody evaluated, and what is found at its place now. */
export interface EvaluatedMatch<E, F> {
  readonly evaluated: E;
  /** Empty: not found again, which takes nothing from the evaluation. */
  readonly found: readonly F[];
}

/** What is found now, and what was evaluated of it. */
export interface FoundMatch<E, F> {
  readonly found: F;
  /** Empty: nobody evaluated it yet. */
  readonly evaluated: readonly E[];
  /** Its pipe that no evaluated indication covered. */
  readonly notEvaluated: IntervalSet;
}

export interface Matching<E, F> {
  /** Every evaluated indication, in the order given: none is ever lost, whatever is found. */
  readonly evaluated: readonly EvaluatedMatch<E, F>[];
  /** Every indication found, in the order given. */
  readonly found: readonly FoundMatch<E, F>[];
}

/**
 * Indications found now beside those that were evaluated already: one belongs to the other when they share pipe or are nearer
 * to each other than `withinMm` (0: only when they share pipe). Cost: evaluated times found.
 * Throws RangeError unless the distance is a whole number from 0.
 */
export function matchEvaluated<E extends Interval, F extends Interval>(evaluated: readonly E[], found: readonly F[], withinMm: number): Matching<E, F> {
  wholeFrom(0, withinMm, 'withinMm');
  const belong = (one: Interval, other: Interval): boolean => apartMm(one, other) < withinMm;
  return {
    evaluated: evaluated.map((one) => ({ evaluated: one, found: found.filter((other) => belong(one, other)) })),
    found: found.map((one) => {
      const own = evaluated.filter((other) => belong(one, other));
      return { found: one, evaluated: own, notEvaluated: IntervalSet.of(one).subtract(IntervalSet.from(own)) };
    }),
  };
}
