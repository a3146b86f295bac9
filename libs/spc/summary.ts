import { stepCounts } from './decimal-steps.js';

/** What a set of values looks like in numbers: where it lies, how far it spreads. */
export interface Summary {
  /** How many values there are. */
  readonly n: number;
  readonly mean: number;
  /** Sample standard deviation, with n − 1; null for a single value. */
  readonly standardDeviation: number | null;
  readonly min: number;
  readonly max: number;
}

/**
 * Mean, sample standard deviation and extremes, in the unit of the values. Both sums run over differences, of the values
 * from the first one and then from the mean (two passes, the second corrected for what rounding left in the mean), so that
 * values with a large common part keep their spread, and decimals are summed as whole counts of their step (`stepCounts`), which
 * doubles are not. The order of the values moves no more than the last digits.
 * Throws RangeError when there are no values or one is not finite.
 */
export function summaryOf(values: readonly number[]): Summary {
  for (const value of values) demandFinite(value);
  const { counts, perUnit } = stepCounts(values);
  const [first] = counts;
  if (first === undefined) throw new RangeError('there are no values to summarise');
  const n = values.length;
  const mean = first + counts.reduce((sum, count) => sum + (count - first), 0) / n;
  return { n, mean: mean / perUnit, standardDeviation: n === 1 ? null : spreadAbout(mean, counts) / perUnit, min: least(values), max: most(values) };
}

function spreadAbout(mean: number, values: readonly number[]): number {
  const n = values.length;
  let [squares, rest] = [0, 0];
  for (const value of values) {
    const difference = value - mean;
    squares += difference * difference;
    rest += difference;
  }
  return Math.sqrt(Math.max(squares - (rest * rest) / n, 0) / (n - 1));
}

/**
 * The value that a share `p` of the values lies below, between neighbours by straight line: the value of rank p(n + 1),
 * and the least or the greatest one where that rank lies outside (NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2;
 * type 6 of Hyndman and Fan, The American Statistician 50, 1996, 361-365). The values may come in any order.
 * Throws RangeError when there are no values, one is not finite, or p is not within 0 and 1.
 */
export function percentile(values: readonly number[], p: number): number {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`the share is not within 0 and 1: ${p}`);
  if (values.length === 0) throw new RangeError('there are no values to take a percentile of');
  for (const value of values) demandFinite(value);
  const sorted = [...values].sort((one, other) => one - other);
  const rank = Math.min(Math.max(p * (sorted.length + 1), 1), sorted.length);
  const below = Math.floor(rank);
  const low = sorted[below - 1] ?? NaN;
  const high = sorted[below] ?? low;
  return low + (rank - below) * (high - low);
}

// Not Math.min(...values): a call takes only so many arguments.
const least = (values: readonly number[]): number => values.reduce((one, other) => Math.min(one, other), Infinity);
const most = (values: readonly number[]): number => values.reduce((one, other) => Math.max(one, other), -Infinity);

function demandFinite(value: number): void {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
}
