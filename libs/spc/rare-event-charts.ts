import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { type ChartPoint, counting, type LeftOut, reasonsByPoint, withLimits } from './control-chart.js';
import { individualsCharts } from './individuals-chart.js';

/**
 * Charts of what lies between rare events, as metres between indications. Few events are no reason to wait for a long stretch
 * of pipe to fill: each new one gives a point. Above the upper limit events have become rarer, below the lower one more frequent.
 */

export interface GapChart {
  readonly mean: number;
  readonly points: readonly GapPoint[];
}

/** Limits by probability lie unevenly about the mean; there is no standard error to speak of. */
export type GapPoint = Omit<ChartPoint, 'standardError'>;

export type GapLimits = Pick<GapPoint, 'centre' | 'lower' | 'upper'>;

export interface GeometricChart {
  readonly mean: number;
  readonly points: readonly ChartPoint[];
}

export interface TransformedGapChart {
  /** Of the transformed gaps y = x^(1/3.6): what run rules are asked about. */
  readonly transformed: readonly ChartPoint[];
  /** The same in the unit of the gaps, x = y^3.6. */
  readonly points: readonly GapPoint[];
}

/** The probability beyond either limit, that of 3 standard deviations of a normal value: 0.00135. */
const BEYOND = normalCdf(-3, 0, 1);
/** An exponential value to the power of 1/3.6 is nearly normal. */
const POWER = 3.6;

/**
 * The t chart of gaps (lengths or times) between events of a constant rate, which are exponential with the mean θ: limits
 * −θ ln(1 − α) and −θ ln α with α = 0.00135, centre at the median θ ln 2. Quantiles of that distribution; common practice, no
 * published source. Throws RangeError when a gap is not above 0 or nothing counts.
 */
export function tChart(gaps: readonly number[], leftOut: readonly LeftOut[] = []): GapChart {
  gaps.forEach(demandGap);
  const reasons = reasonsByPoint(leftOut, gaps.length);
  const mean = meanOf(counting(gaps, reasons));
  return { mean, points: gapPoints(gaps, tLimits(mean), reasons) };
}

/** Centre and limits of a t chart by the mean gap, in its unit. Throws RangeError when it is not above 0. */
export function tLimits(mean: number): GapLimits {
  demandGap(mean);
  return { centre: mean * Math.LN2, lower: -mean * Math.log1p(-BEYOND), upper: -mean * Math.log(BEYOND) };
}

/**
 * The g chart of how many good units lie between two that are not: geometric, from 0 on, with the mean ḡ and p = 1/(1 + ḡ).
 * Limits ḡ ± 3 √(ḡ (ḡ + 1)), not below 0 (F. C. Kaminsky, J. C. Benneyan, R. D. Davis and R. J. Burke, Statistical control
 * charts based on a geometric distribution, Journal of Quality Technology 24, 1992, 63-69). Its lower limit is always 0, so it
 * shows only that faults became rarer. Throws RangeError when a gap is no whole number from 0 on, nothing counts, or all are 0.
 */
export function gChart(gaps: readonly number[], leftOut: readonly LeftOut[] = []): GeometricChart {
  gaps.forEach(demandWholeGap);
  const reasons = reasonsByPoint(leftOut, gaps.length);
  const mean = meanOf(counting(gaps, reasons));
  if (mean === 0) throw new RangeError('nothing lies between the faults: there is no rate to take limits from');
  const standardError = Math.sqrt(mean * (mean + 1));
  return {
    mean, points: gaps.map((value, index) => withLimits({ point: index + 1, value, centre: mean, standardError }, reasons, 0)),
  };
}

/**
 * The g chart with limits by probability, which can show that faults became more frequent: the greatest gap that at most 0.00135
 * of gaps are below, and the least that at most 0.00135 are above, with P(gap ≥ k) = (1 − p)^k and p as above (the quantiles
 * of the geometric distribution; our choice of them). Its centre is the median. Errors as for `gChart`.
 */
export function gChartByProbability(gaps: readonly number[], leftOut: readonly LeftOut[] = []): GapChart {
  const { mean } = gChart(gaps, leftOut);
  return { mean, points: gapPoints(gaps, gLimits(mean), reasonsByPoint(leftOut, gaps.length)) };
}

/** Centre and limits by probability of a g chart by the mean gap, in units. Throws RangeError when it is not above 0. */
export function gLimits(mean: number): GapLimits {
  demandGap(mean);
  // P(gap ≥ k) ≥ 1 − α up to this k, and P(gap > k) ≤ α from the next whole one on.
  const steps = (upperTail: number): number => Math.log(upperTail) / Math.log(mean / (1 + mean));
  return { centre: Math.max(Math.ceil(steps(0.5)) - 1, 0), lower: Math.floor(steps(1 - BEYOND)), upper: Math.max(Math.ceil(steps(BEYOND)) - 1, 0) };
}

/**
 * The t chart by a power: y = x^(1/3.6) of exponential gaps is nearly normal, and is charted as individuals with limits from
 * moving ranges (L. S. Nelson, A control chart for parts-per-million nonconforming items, Journal of Quality Technology 26,
 * 1994, 239-240). Run rules may be asked about the transformed points. Throws RangeError when a gap is not above 0, and as
 * `individualsCharts`.
 */
export function transformedTChart(gaps: readonly number[], leftOut: readonly LeftOut[] = []): TransformedGapChart {
  gaps.forEach(demandGap);
  const { values: transformed } = individualsCharts(gaps.map((gap) => gap ** (1 / POWER)), { leftOut });
  const back = (value: number): number => Math.max(value, 0) ** POWER;
  return {
    transformed, points: transformed.map(({ point, centre, lower, upper, leftOut: reason }, index) => ({
      point, value: gaps[index] ?? NaN, centre: back(centre), lower: back(lower), upper: back(upper), leftOut: reason,
    })),
  };
}

const gapPoints = (gaps: readonly number[], limits: GapLimits, reasons: ReadonlyMap<number, string>): GapPoint[] =>
  gaps.map((value, index) => ({ point: index + 1, value, ...limits, leftOut: reasons.get(index + 1) ?? null }));

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

function demandGap(gap: number): void {
  if (!(gap > 0 && gap < Infinity)) throw new RangeError(`not a gap: ${gap}`);
}

function demandWholeGap(gap: number): void {
  if (!(Number.isSafeInteger(gap) && gap >= 0)) throw new RangeError(`not a number of units between faults: ${gap}`);
}
