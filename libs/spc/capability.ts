/**
 * How the spread of values compares with their limits, by the overall standard deviation:
 *
 *     Pp = (U − L)/(6 s)    PpkL = (mean − L)/(3 s)    PpkU = (U − mean)/(3 s)    Ppk = the smaller one there is
 *
 * For independent values that are roughly normal. That the process they come from is in control is not shown by any of
 * it, which is why these are indices of performance (P) and not of capability (C) in the words of ISO 22514-2 (from memory).
 */
import type { Summary } from './summary.js';

/** Limits in the unit of the values; null on a side without one. */
export interface SpecificationLimits {
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface OverallCapability {
  /** Null with a limit on one side only. */
  readonly pp: number | null;
  /** Null on a side without a limit. */
  readonly ppkLower: number | null;
  readonly ppkUpper: number | null;
  /** Below 0 where the mean lies outside the limits. */
  readonly ppk: number;
  /** Two-sided 95 % confidence interval of Ppk, approximate. */
  readonly ppkInterval: { readonly from: number; readonly to: number };
}

/**
 * The 0.975 quantile of the standard normal distribution. NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, prints
 * 1.960; a test holds the further digits against the distribution itself.
 */
const NORMAL_QUANTILE_97_5 = 1.959963984540054;

/**
 * Pp and Ppk of values with this mean and standard deviation against these limits.
 * Throws RangeError when there are fewer than 2 values, when the mean or the standard deviation is not finite, when the
 * standard deviation is not above 0 (the indices do not exist then), when there is no limit, or when the limits are not
 * finite or are reversed.
 */
export function overallCapability(
  { n, mean, standardDeviation }: Pick<Summary, 'n' | 'mean' | 'standardDeviation'>,
  { lower, upper }: SpecificationLimits,
): OverallCapability {
  demandSense({ n, mean, standardDeviation }, { lower, upper });
  const s = standardDeviation ?? NaN;
  const ppkLower = lower === null ? null : (mean - lower) / (3 * s);
  const ppkUpper = upper === null ? null : (upper - mean) / (3 * s);
  const ppk = Math.min(ppkLower ?? Infinity, ppkUpper ?? Infinity);
  const pp = lower === null || upper === null ? null : (upper - lower) / (6 * s);
  return { pp, ppkLower, ppkUpper, ppk, ppkInterval: ppkInterval(ppk, n) };
}

/**
 * The approximate two-sided 95 % confidence interval of a Ppk found from n values:
 *
 *     Ppk ± z √( 1/(9 n) + Ppk²/(2 (n − 1)) ),  z = 1.96
 *
 * A. F. Bissell, How reliable is your capability index?, Applied Statistics 39 (1990), 331-340; Montgomery, Introduction to
 * Statistical Quality Control, eq. 8.21. It takes the estimate for normal, is made for one limit, and with two limits is
 * about right once the further one is out of reach. Throws RangeError when Ppk is not finite or n is below 2.
 */
export function ppkInterval(ppk: number, n: number): { readonly from: number; readonly to: number } {
  if (!Number.isFinite(ppk)) throw new RangeError(`not a finite Ppk: ${ppk}`);
  demandSome(n);
  const half = NORMAL_QUANTILE_97_5 * Math.sqrt(1 / (9 * n) + (ppk * ppk) / (2 * (n - 1)));
  return { from: ppk - half, to: ppk + half };
}

function demandSense({ n, mean, standardDeviation }: Pick<Summary, 'n' | 'mean' | 'standardDeviation'>, limits: SpecificationLimits): void {
  demandSome(n);
  if (!Number.isFinite(mean)) throw new RangeError(`not a finite mean: ${mean}`);
  if (standardDeviation === null || !(standardDeviation > 0 && standardDeviation < Infinity)) {
    throw new RangeError(`the standard deviation is not above 0: ${String(standardDeviation)}`);
  }
  demandLimits(limits);
}

/** Throws RangeError when there is no limit, or limits are not finite or reversed. */
export function demandLimits({ lower, upper }: SpecificationLimits): void {
  if (lower === null && upper === null) throw new RangeError('there is no limit to hold the values against');
  for (const limit of [lower, upper]) if (limit !== null && !Number.isFinite(limit)) throw new RangeError(`not a finite limit: ${limit}`);
  if (lower !== null && upper !== null && lower > upper) throw new RangeError(`limits are reversed: lower ${lower}, upper ${upper}`);
}

function demandSome(n: number): void {
  if (!(Number.isSafeInteger(n) && n >= 2)) throw new RangeError(`n is not a whole number of at least 2: ${n}`);
}
