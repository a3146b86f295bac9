import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { twoSidedQuantile } from './confidence.js';
import { stepCounts } from './decimal-steps.js';
import { summaryOf } from './summary.js';

/** How far values that follow each other resemble each other, and what that does to a chart that takes them for independent. */
export interface Autocorrelation {
  readonly lag: number;
  /** The coefficient, within −1 and 1. */
  readonly r: number;
  /** Independent values give a coefficient this near to 0, in the share `confidence` of all cases. */
  readonly independentWithin: number;
  /** Confidence interval of the coefficient, approximate, for a process in which each value follows from the one before. */
  readonly interval: { readonly from: number; readonly to: number };
}

/**
 * The autocorrelation of values in their order, `lag` places apart:
 *
 *     r = Σ (y(i) − m)(y(i + lag) − m) / Σ (y(i) − m)²
 *
 * NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.12; independent values stay within ± z/√n (1.3.3.1). The interval is
 * r ± z √v with the variance of a first-order autoregressive process of φ = r at lag 1, by Bartlett's formula:
 *
 *     v = ( (1 + φ²)(1 − φ^(2 lag))/(1 − φ²) − 2 lag φ^(2 lag) )/n
 *
 * (Box, Jenkins and Reinsel, Time Series Analysis, 2.1.6; from memory), cut off at −1 and 1. It is for many values, and too
 * narrow for few. Throws RangeError when the lag is not a whole number from 1 to n − 1, when the values do not differ or one
 * is not finite, or when the confidence is not between 0 and 1.
 */
export function autocorrelation(values: readonly number[], lag: number, confidence = 0.95): Autocorrelation {
  const z = twoSidedQuantile(confidence);
  const r = coefficient(values, lag);
  const phi = lag === 1 ? r : coefficient(values, 1);
  const half = z * Math.sqrt(coefficientVariance(phi, lag) / values.length);
  return {
    lag, r, independentWithin: z / Math.sqrt(values.length),
    interval: { from: Math.max(-1, r - half), to: Math.min(1, r + half) },
  };
}

/**
 * How many independent values fix a mean as well as n of a first-order autoregressive process do, the variance of a single
 * value over that of the mean:
 *
 *     n / (1 + 2 Σ (1 − k/n) φ^k over k from 1 to n − 1)
 *
 * For many values it is n (1 − φ)/(1 + φ). Bayley and Hammersley, Journal of the Royal Statistical Society, Supplement 8
 * (1946), 184-197; from memory. With φ below 0 it is above n. Throws RangeError when n is not a whole number of at least 1 or
 * φ is not between −1 and 1.
 */
export function effectiveCount(n: number, phi: number): number {
  demandPhi(phi);
  if (!(Number.isSafeInteger(n) && n >= 1)) throw new RangeError(`not a number of values: ${n}`);
  const rest = 1 - phi;
  return n / (1 + 2 * (phi / rest - (phi * (1 - phi ** n)) / (n * rest * rest)));
}

/** What a chart of individual values does that is made as if they were independent. */
export interface NaiveChart {
  /** Its standard deviation, from the mean moving range, over the true one of the values. */
  readonly spreadRatio: number;
  /** The share of values outside of its limits while nothing has changed, 0 to 1. */
  readonly outsideShare: number;
  /** What a Cpk with that standard deviation is over the one with the true one. */
  readonly cpkRatio: number;
}

/**
 * What limits of ± 3 standard deviations by moving ranges come to on a stable normal process with the autocorrelation φ at
 * lag 1. The difference of neighbours has the variance 2 σ² (1 − φ), so that the standard deviation found is σ √(1 − φ) (Box,
 * Jenkins and Reinsel, Time Series Analysis, 3.2.3; Montgomery, Introduction to Statistical Quality Control, 10.4). Limits
 * that were found from many values. Throws RangeError when φ is not between −1 and 1.
 */
export function naiveChart(phi: number): NaiveChart {
  demandPhi(phi);
  const spreadRatio = Math.sqrt(1 - phi);
  return { spreadRatio, outsideShare: 2 * normalCdf(-3 * spreadRatio, 0, 1), cpkRatio: 1 / spreadRatio };
}

function coefficient(readings: readonly number[], lag: number): number {
  // A coefficient has no unit: counts of steps give the same, and are exact.
  const { counts: values } = stepCounts(readings);
  const { n, mean, standardDeviation } = summaryOf(values);
  if (!(Number.isSafeInteger(lag) && lag >= 1 && lag < n)) throw new RangeError(`the lag is not within 1 and ${n - 1}: ${lag}`);
  if (standardDeviation === 0) throw new RangeError('all values are equal: an autocorrelation does not exist');
  // What rounding left in the mean counts for nothing beside the spread, as long as it is taken off again.
  const rest = values.reduce((sum, value) => sum + (value - mean), 0) / n;
  let [products, squares] = [0, 0];
  for (let index = 0; index < n; index++) {
    const difference = at(values, index) - mean - rest;
    squares += difference * difference;
    if (index + lag < n) products += difference * (at(values, index + lag) - mean - rest);
  }
  return products / squares;
}

function coefficientVariance(phi: number, lag: number): number {
  const square = phi * phi;
  // At φ = ±1, which no finite row of differing values reaches, there would be 0/0.
  return ((1 + square) * (1 - square ** lag)) / (1 - square) - 2 * lag * square ** lag;
}

const at = (values: readonly number[], index: number): number => values[index] ?? NaN;

function demandPhi(phi: number): void {
  if (!(phi > -1 && phi < 1)) throw new RangeError(`the autocorrelation is not between -1 and 1: ${phi}`);
}
