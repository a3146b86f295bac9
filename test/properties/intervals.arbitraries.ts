import fc from 'fast-check';
import type { Interval } from '#libs/intervals';
import { interval, IntervalSet } from '#libs/intervals';

/** Bounds of the universe in which the naive twin stays quick, wide enough for gaps, touches and overlaps. */
export const SMALL_UNIVERSE = interval(-40, 40);

/** An interval inside the given one. */
export function intervalWithin({ fromMm, toMm }: Interval): fc.Arbitrary<Interval> {
  return fc
    .integer({ min: fromMm, max: toMm - 1 })
    .chain((startMm) => fc.integer({ min: startMm + 1, max: toMm }).map((endMm) => interval(startMm, endMm)));
}

/** Short intervals are drawn more often, or a few long ones would swallow every list. */
function shortIntervalWithin({ fromMm, toMm }: Interval): fc.Arbitrary<Interval> {
  return fc
    .tuple(fc.integer({ min: fromMm, max: toMm - 1 }), fc.integer({ min: 1, max: 6 }))
    .map(([startMm, lengthMm]) => interval(startMm, Math.min(startMm + lengthMm, toMm)));
}

/** An unsorted list of intervals that may repeat, touch, nest and overlap. */
export function rawIntervals(universe: Interval = SMALL_UNIVERSE, maxLength = 12): fc.Arbitrary<Interval[]> {
  const anyInterval = fc.oneof(
    { weight: 4, arbitrary: shortIntervalWithin(universe) },
    { weight: 1, arbitrary: intervalWithin(universe) },
  );
  return fc.array(anyInterval, { maxLength });
}

/** A canonical set, empty ones included. */
export function intervalSets(universe: Interval = SMALL_UNIVERSE): fc.Arbitrary<IntervalSet> {
  return rawIntervals(universe).map((intervals) => IntervalSet.from(intervals));
}

/** Raw lists anywhere in the safe integers, bounds at the very ends included. */
export function wideRawIntervals(): fc.Arbitrary<Interval[]> {
  const bound = fc.oneof(fc.maxSafeInteger(), fc.constantFrom(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER));
  const wide = fc
    .tuple(bound, bound)
    .filter(([a, b]) => a !== b)
    .map(([a, b]) => interval(Math.min(a, b), Math.max(a, b)));
  return fc.array(wide, { maxLength: 12 });
}
