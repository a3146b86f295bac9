import { summaryOf } from '#libs/spc';
import { neighboursOf, type SeriesPoint } from './series.js';

/** How far points that follow each other resemble each other. */
export interface LagOne {
  /** Points, and pairs of neighbours among them. */
  readonly n: number;
  readonly pairs: number;
  /** The coefficient, between −1 and 1. */
  readonly phi: number;
  /** Independent points give one this near to 0 in 95 % of all cases. */
  readonly independentWithin: number;
  /** 95 % confidence interval, approximate. */
  readonly interval: { readonly from: number; readonly to: number };
}

/** The 0.975 quantile of the standard normal distribution; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, prints 1.960. */
const NORMAL_QUANTILE_97_5 = 1.959963984540054;
/** Fewer pairs say nothing. Our own choice. */
const LEAST_PAIRS = 3;

/**
 * The autocorrelation at lag 1 of points between which no stretch begins anew: the mean product of neighbours' distances from the
 * common mean over the mean square of all. Of one stretch it is that of `autocorrelation` of libs/spc times n/(n − 1): pairs are fewer
 * than points by one a stretch, and many short stretches must not pull it to 0. Stretches that lie far apart, some without a pair, could
 * push it past 1: n points tell it no nearer to 1 than by 1/n (our own choice). Interval and independence as there, with the number of pairs. Null with fewer
 * than 3 pairs, or when all points are equal. Throws RangeError when a value is not finite.
 */
export function lagOneOf(values: readonly number[], series: readonly Pick<SeriesPoint, 'beginsAnew'>[]): LagOne | null {
  const pairs = neighboursOf(values, series);
  if (pairs.length < LEAST_PAIRS) return null;
  const { n, mean, standardDeviation } = summaryOf(values);
  if (standardDeviation === null || standardDeviation === 0) return null;
  const meanSquare = (standardDeviation ** 2 * (n - 1)) / n;
  const meanProduct = pairs.reduce((sum, [before, value]) => sum + (before - mean) * (value - mean), 0) / pairs.length;
  const phi = Math.max(1 / n - 1, Math.min(1 - 1 / n, meanProduct / meanSquare));
  const half = NORMAL_QUANTILE_97_5 * Math.sqrt((1 - phi * phi) / pairs.length);
  return {
    n, pairs: pairs.length, phi, independentWithin: NORMAL_QUANTILE_97_5 / Math.sqrt(pairs.length),
    interval: { from: Math.max(-1, phi - half), to: Math.min(1, phi + half) },
  };
}

/** Above it points count as resembling each other: more than independent ones do in 97.5 % of all cases. */
export const isCorrelated = (lag: LagOne | null): lag is LagOne => lag !== null && lag.phi > lag.independentWithin;

/** The largest batch, and the widest spacing, that is looked for. */
const MOST_POINTS = 1_000;
/** Runger and Willemain, Journal of Quality Technology 28 (1996), 201-207, from memory. */
const NEARLY_INDEPENDENT = 0.1;

/** Means of batches may resemble each other as far as they count for nearly independent: only what is surely above it, with 97.5 %, is too much. */
export const areBatchesCorrelated = (lag: LagOne | null): lag is LagOne => lag !== null && lag.interval.from > NEARLY_INDEPENDENT;

/**
 * The least batch whose means have an autocorrelation below 0.1 at lag 1, for a process in which each value follows from the one
 * before:
 *
 *     ρ(b) = φ (1 − φ^b)² / (b (1 − φ²) − 2 φ (1 − φ^b))
 *
 * (the covariance of two neighbouring sums over the variance of one, both from φ^k). Null where more than 1,000 would be needed.
 * Throws RangeError when φ is not from 0 to below 1.
 */
export function batchSizeFor(phi: number): number | null {
  demandPhi(phi);
  for (let size = 1; size <= MOST_POINTS; size += 1) {
    const rest = 1 - phi ** size;
    if ((phi * rest * rest) / (size * (1 - phi * phi) - 2 * phi * rest) < NEARLY_INDEPENDENT) return size;
  }
  return null;
}

/**
 * How many times as far apart points have to lie, at the least, to have an autocorrelation below 0.1, for a process in which each value
 * follows from the one before: the least whole k with φ^k < 0.1 (Box, Jenkins and Reinsel, Time Series Analysis, 3.2.3, from memory; to
 * take batches and every k-th value alike is our own choice). 1 where they have it as they lie; null where more than 1,000 would be needed.
 * Throws RangeError when φ is not from 0 to below 1.
 */
export function spacingFor(phi: number): number | null {
  demandPhi(phi);
  for (let spacing = 1; spacing <= MOST_POINTS; spacing += 1) if (phi ** spacing < NEARLY_INDEPENDENT) return spacing;
  return null;
}

function demandPhi(phi: number): void {
  if (!(phi >= 0 && phi < 1)) throw new RangeError(`not an autocorrelation from 0 to below 1: ${phi}`);
}
