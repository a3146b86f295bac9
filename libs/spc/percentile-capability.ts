import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { boxCoxInverse } from './box-cox.js';
import { demandLimits, type SpecificationLimits } from './capability.js';
import { percentile } from './summary.js';

/** Where a distribution has 0.135 %, a half and 99.865 % of its values below: what mean ∓ 3 σ and mean are of a normal one. */
export interface ReferencePercentiles {
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** The share below the mean less three standard deviations of a normal distribution, 0.00135. */
export const LOW_SHARE = normalCdf(-3, 0, 1);
/** With fewer values the low percentile is less than the least of them: its rank p (n + 1) is below 1. 740. */
export const LEAST_FOR_PERCENTILES = Math.ceil(1 / LOW_SHARE - 1);

/**
 * The reference percentiles by the values alone, whatever their distribution. Null with fewer than 740 values, of which they
 * would be guessed. Throws RangeError as `percentile` does.
 */
export function referencePercentiles(values: readonly number[]): ReferencePercentiles | null {
  if (values.length < LEAST_FOR_PERCENTILES) return null;
  return { low: percentile(values, LOW_SHARE), median: percentile(values, 0.5), high: percentile(values, 1 - LOW_SHARE) };
}

/**
 * The reference percentiles of values that a power transformation λ makes normal, with this mean and standard deviation after
 * it: taken three standard deviations out and transformed back. Null where the distribution ends before, so that there is no
 * such value.
 */
export function transformedPercentiles(lambda: number, mean: number, standardDeviation: number): ReferencePercentiles | null {
  const [low, median, high] = [-3, 0, 3].map((z) => boxCoxInverse(mean + z * standardDeviation, lambda));
  return low == null || median == null || high == null ? null : { low, median, high };
}

export interface PercentileCapability {
  /** (U − L)/(high − low); null with a limit on one side only. */
  readonly pp: number | null;
  /** (median − L)/(median − low) and (U − median)/(high − median); null on a side without a limit. */
  readonly ppkLower: number | null;
  readonly ppkUpper: number | null;
  /** The smaller of both. */
  readonly ppk: number;
}

/**
 * Pp and Ppk by percentiles, for values that are not normal: ISO 22514-2 (from memory; the general geometric method, by which
 * a normal distribution has the indices that its mean and standard deviation give). Throws RangeError when the percentiles
 * are not finite or do not rise, there is no limit, or limits are not finite or reversed.
 */
export function percentileCapability({ low, median, high }: ReferencePercentiles, limits: SpecificationLimits): PercentileCapability {
  demandLimits(limits);
  if (![low, median, high].every(Number.isFinite) || !(low < median && median < high)) {
    throw new RangeError(`percentiles do not rise: ${low}, ${median}, ${high}`);
  }
  const { lower, upper } = limits;
  const ppkLower = lower === null ? null : (median - lower) / (median - low);
  const ppkUpper = upper === null ? null : (upper - median) / (high - median);
  return {
    pp: lower === null || upper === null ? null : (upper - lower) / (high - low),
    ppkLower, ppkUpper, ppk: Math.min(ppkLower ?? Infinity, ppkUpper ?? Infinity),
  };
}
