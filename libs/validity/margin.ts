import { compare, decimal, minus, type Ratio, ratio, times } from '#libs/exact';
import { exactConversion, isUnitName, UNITS } from '#libs/units';
import type { DoubtfulSpan } from './doubtful-spans.js';
import { plainDeviation } from './tolerance.js';

/** `less-than-deviation`: with the deviation that was found, the reading might lie on the other side of its limit. */
export type MarginFinding = 'enough' | 'less-than-deviation' | 'not-comparable';

/**
 * Whether the distance of a reading from its limit (decimal text, the sign plays no part) outweighs the greatest deviation
 * found in the span, in size and in any direction; a distance equal to it is enough. Units are converted exactly, as
 * differences. Not comparable when a deviation is no plain number or of another dimension, unless another one is greater
 * already. The uncertainty of the calibration is not added, and at what point of the range the instrument was used is not
 * asked: an aid for sorting the readings (common practice, no published source), the evaluation is for the responsible
 * person. Throws SyntaxError when the margin is not plain decimal text.
 */
export function marginAgainst({ deviations }: Pick<DoubtfulSpan, 'deviations'>, margin: { readonly value: string; readonly unit: string }): MarginFinding {
  const distance = sizeOf(decimal(margin.value));
  const sizes = deviations.map((found): Ratio | null => {
    const value = plainDeviation(found);
    const factor = factorBetween(found.unit, margin.unit);
    return value && factor && sizeOf(times(value, factor));
  });
  if (sizes.some((size) => size !== null && compare(distance, size) < 0)) return 'less-than-deviation';
  return sizes.includes(null) ? 'not-comparable' : 'enough';
}

function factorBetween(from: string, to: string): Ratio | null {
  if (from === to) return ratio(1n);
  if (!isUnitName(from) || !isUnitName(to) || UNITS[from].dimension !== UNITS[to].dimension) return null;
  return exactConversion(from, to).factor;
}

function sizeOf(value: Ratio): Ratio {
  return value.numerator < 0n ? minus(ratio(0n), value) : value;
}
