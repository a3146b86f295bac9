import fCdf from '@stdlib/stats-base-dists-f-cdf';

/**
 * The probability that an F-distributed ratio with these degrees of freedom is `f` or greater: the p value of a test of
 * variances. It is taken as P(1/F ≤ 1/f), which is F-distributed with the degrees exchanged: 1 − P(F ≤ f) would lose all
 * digits of a small p. Throws RangeError when `f` is below 0 or not a number, or a degree of freedom is not at least 1.
 */
export function fTail(f: number, numeratorDegrees: number, denominatorDegrees: number): number {
  if (!(f >= 0)) throw new RangeError(`not a ratio of variances: ${f}`);
  for (const degrees of [numeratorDegrees, denominatorDegrees]) {
    if (!(Number.isSafeInteger(degrees) && degrees >= 1)) throw new RangeError(`not degrees of freedom: ${degrees}`);
  }
  return fCdf(1 / f, denominatorDegrees, numeratorDegrees);
}
