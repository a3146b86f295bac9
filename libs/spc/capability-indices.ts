import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import { demandLimits, type SpecificationLimits } from './capability.js';
import { demandConfidence, twoSidedQuantile } from './confidence.js';

/**
 * How the spread of a process compares with its limits, by a standard deviation that the caller names: that within subgroups
 * gives Cp and Cpk, the overall one Pp and Ppk, by the same formulas. None of it holds unless the process was shown to be in
 * control, the values are independent and roughly normal; with autocorrelated values every interval is too narrow.
 */
export interface IndexWithInterval {
  readonly value: number;
  readonly interval: Interval;
}

export interface Interval {
  readonly from: number;
  readonly to: number;
}

export interface Spread {
  /** Values in all, of which the mean was taken. */
  readonly n: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** Of the standard deviation: n − 1 where it is that of all values; fewer where it was found within subgroups. */
  readonly degreesOfFreedom: number;
}

export interface CapabilityIndices {
  /** (U − L)/(6 σ); null with a limit on one side only. */
  readonly cp: IndexWithInterval | null;
  /** (mean − L)/(3 σ) and (U − mean)/(3 σ); null on a side without a limit. */
  readonly cpkLower: IndexWithInterval | null;
  readonly cpkUpper: IndexWithInterval | null;
  /** The smaller of both. */
  readonly cpk: IndexWithInterval;
}

/**
 * Cp and Cpk with their two-sided confidence intervals. Throws RangeError when n or the degrees of freedom are below 2 or 1,
 * the mean is not finite, the standard deviation not above 0, there is no limit, limits are not finite or reversed, or the
 * confidence is not between 0 and 1.
 */
export function capabilityIndices(spread: Spread, limits: SpecificationLimits, confidence = 0.95): CapabilityIndices {
  demandSpread(spread);
  demandLimits(limits);
  const { mean, standardDeviation } = spread;
  const oneSided = (room: number): IndexWithInterval => {
    const value = room / (3 * standardDeviation);
    return { value, interval: cpkInterval(value, spread, confidence) };
  };
  const cpkLower = limits.lower === null ? null : oneSided(mean - limits.lower);
  const cpkUpper = limits.upper === null ? null : oneSided(limits.upper - mean);
  const cpk = [cpkLower, cpkUpper].filter((index) => index !== null).reduce((one, other) => (other.value < one.value ? other : one));
  return { cp: cpOf(spread, limits, confidence), cpkLower, cpkUpper, cpk };
}

function cpOf({ standardDeviation, degreesOfFreedom }: Spread, { lower, upper }: SpecificationLimits, confidence: number): IndexWithInterval | null {
  if (lower === null || upper === null) return null;
  const value = (upper - lower) / (6 * standardDeviation);
  return { value, interval: cpInterval(value, degreesOfFreedom, confidence) };
}

/**
 * The exact two-sided interval of a Cp whose standard deviation has ν degrees of freedom, for normal values:
 *
 *     Cp √(χ²(α/2, ν)/ν)  to  Cp √(χ²(1 − α/2, ν)/ν)
 *
 * Montgomery, Introduction to Statistical Quality Control, eq. 8.20. Throws RangeError when Cp is below 0 or not finite, the
 * degrees are not above 0, or the confidence is not between 0 and 1.
 */
export function cpInterval(cp: number, degreesOfFreedom: number, confidence = 0.95): Interval {
  if (!(cp >= 0 && cp < Infinity)) throw new RangeError(`not a Cp: ${cp}`);
  if (!(degreesOfFreedom > 0 && degreesOfFreedom < Infinity)) throw new RangeError(`not degrees of freedom: ${degreesOfFreedom}`);
  demandConfidence(confidence);
  const end = (p: number): number => cp * Math.sqrt(chiSquareQuantile(p, degreesOfFreedom) / degreesOfFreedom);
  return { from: end((1 - confidence) / 2), to: end((1 + confidence) / 2) };
}

/**
 * The approximate two-sided interval of a Cpk, Cpk ± z √(1/(9 n) + Cpk²/(2 ν)), ν the degrees of freedom of its standard
 * deviation. A. F. Bissell, Applied Statistics 39 (1990), 331-340; Montgomery, eq. 8.21. It is made for one limit, and with two
 * about right once the further one is out of reach. Throws RangeError as `capabilityIndices` does.
 */
export function cpkInterval(cpk: number, { n, degreesOfFreedom }: Pick<Spread, 'n' | 'degreesOfFreedom'>, confidence = 0.95): Interval {
  if (!Number.isFinite(cpk)) throw new RangeError(`not a finite Cpk: ${cpk}`);
  const half = twoSidedQuantile(confidence) * Math.sqrt(1 / (9 * n) + (cpk * cpk) / (2 * degreesOfFreedom));
  return { from: cpk - half, to: cpk + half };
}

/** Indices about a target: what lies off it counts as spread. */
export interface TargetIndices {
  /** (U − L)/(6 √(s² + (mean − target)²)). */
  readonly cpm: IndexWithInterval;
  /** The smaller of (mean − L) and (U − mean) over 3 √(s² + (mean − target)²). */
  readonly cpmk: number;
}

/**
 * Cpm and Cpmk about a target, between two limits (Montgomery, Introduction to Statistical Quality Control, 8.3.4; Cpmk is
 * its Cpkm). The interval is approximate: Cpm √(χ²(p, ν)/ν) with ν = n (1 + ξ²)²/(1 + 2 ξ²), ξ = (mean − target)/s (Boyles,
 * Journal of Quality Technology 23 (1991), 17-26; from memory). Throws RangeError as `capabilityIndices` does, with a limit
 * missing, and when the target is not between the limits.
 */
export function targetIndices(spread: Spread, limits: SpecificationLimits, target: number, confidence = 0.95): TargetIndices {
  demandSpread(spread);
  demandLimits(limits);
  const { lower, upper } = limits;
  if (lower === null || upper === null) throw new RangeError('indices about a target take a limit on each side');
  if (!(target >= lower && target <= upper)) throw new RangeError(`the target is not within the limits: ${target}`);
  const { n, mean, standardDeviation: s } = spread;
  const about = Math.hypot(s, mean - target);
  const value = (upper - lower) / (6 * about);
  const square = ((mean - target) / s) ** 2;
  const interval = cpInterval(value, (n * (1 + square) ** 2) / (1 + 2 * square), confidence);
  return { cpm: { value, interval }, cpmk: Math.min(mean - lower, upper - mean) / (3 * about) };
}

function demandSpread({ n, mean, standardDeviation, degreesOfFreedom }: Spread): void {
  if (!(Number.isSafeInteger(n) && n >= 2)) throw new RangeError(`n is not a whole number of at least 2: ${n}`);
  if (!Number.isFinite(mean)) throw new RangeError(`not a finite mean: ${mean}`);
  if (!(standardDeviation > 0 && standardDeviation < Infinity)) throw new RangeError(`the standard deviation is not above 0: ${standardDeviation}`);
  // Of ranges the degrees are no whole number.
  if (!(degreesOfFreedom >= 1 && degreesOfFreedom < n)) throw new RangeError(`not degrees of freedom of ${n} values: ${degreesOfFreedom}`);
}
