import { compare, minus, plus, ratio, rounded } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import type { Zone } from './zone.js';

/**
 * The rounding method of ASTM E29: a value is rounded to the place of the last digit of the limit, or to the place that
 * the specification states, and then compared. A tie goes to the even digit (from memory: E29 6.4).
 */
const TIES = 'half-even';

/** Where the rounded values of a zone lie. An open end closes: the values just short of it round to a value that is met. */
export function asRounded({ low, high, lowOpen, highOpen }: Zone, place: number): Zone {
  const half = halfUnit(place);
  return {
    low: low && (lowOpen ? rounded(plus(low, half), place, 'floor') : rounded(low, place, TIES)),
    high: high && (highOpen ? rounded(minus(high, half), place, 'ceiling') : rounded(high, place, TIES)),
    lowOpen: false,
    highOpen: false,
  };
}

/**
 * The values that lie in `zone` once they are rounded: to `lowPlace` for its lower end, to `highPlace` for its upper one;
 * a null place does not round. With the end moved once, a value is compared as it is, and so is one known between bounds.
 */
export function beforeRounding(zone: Zone, lowPlace: number | null, highPlace: number | null): Zone {
  const low = zone.low && lowPlace !== null ? lowestRoundingUpTo(zone.low, lowPlace) : { end: zone.low, open: zone.lowOpen };
  const high = zone.high && highPlace !== null ? highestRoundingDownTo(zone.high, highPlace) : { end: zone.high, open: zone.highOpen };
  return { low: low.end, lowOpen: low.open, high: high.end, highOpen: high.open };
}

interface End {
  readonly end: Ratio;
  readonly open: boolean;
}

function lowestRoundingUpTo(limit: Ratio, place: number): End {
  const first = rounded(limit, place, 'ceiling');
  return endOf(minus(first, halfUnit(place)), first, place);
}

function highestRoundingDownTo(limit: Ratio, place: number): End {
  const last = rounded(limit, place, 'floor');
  return endOf(plus(last, halfUnit(place)), last, place);
}

/** The tie itself belongs to the zone when it rounds into it. */
function endOf(tie: Ratio, into: Ratio, place: number): End {
  return { end: tie, open: compare(rounded(tie, place, TIES), into) !== 0 };
}

function halfUnit(place: number): Ratio {
  return place >= 0 ? ratio(1n, 2n * 10n ** BigInt(place)) : ratio(10n ** BigInt(-place), 2n);
}
