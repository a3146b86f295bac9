import type { ChartPoint, LeftOut } from './control-chart.js';
import { individualsCharts } from './individuals-chart.js';
import { meanDeviationCharts } from './subgroup-charts.js';

/** Three charts: where subgroups lie, how far each lies from the one before, and how far their values spread. */
export interface BetweenWithinCharts {
  /** The mean of the subgroups' means. */
  readonly mean: number;
  readonly means: readonly ChartPoint[];
  readonly movingRanges: readonly ChartPoint[];
  /** Sample standard deviations of the subgroups. */
  readonly deviations: readonly ChartPoint[];
  readonly sigmaWithin: number;
  /** Of the subgroups' true means, as from coil to coil; 0 where the means differ by less than their values explain. */
  readonly sigmaBetween: number;
  /** True where that is so: the estimate of the variance was below 0. */
  readonly betweenIsNegative: boolean;
  /** Of a single value, √(between² + within²). */
  readonly sigmaTotal: number;
}

/**
 * Between/within charts, for subgroups whose means differ by more than chance within them explains: the means are charted as
 * individuals with limits from their moving ranges, the deviations within as in a chart of s (D. J. Wheeler and
 * D. S. Chambers, Understanding Statistical Process Control, three-way chart, from memory). With σm from the moving ranges,
 *
 *     σ_between² = σm² − σ_within² mean(1/n)    σ_total² = σ_between² + σ_within²
 *
 * which for subgroups of one size n is the usual σm² − σ_within²/n; the mean of 1/n for unequal ones is our choice.
 * Errors are those of the charts it is made of.
 */
export function betweenWithinCharts(subgroups: readonly (readonly number[])[], leftOut: readonly LeftOut[] = []): BetweenWithinCharts {
  const { means, spreads, sigma: sigmaWithin } = meanDeviationCharts(subgroups, leftOut);
  const between = individualsCharts(means.map(({ value }) => value), { leftOut });
  const counted = subgroups.filter((_, index) => means[index]?.leftOut === null);
  const ofMeans = (sigmaWithin * sigmaWithin * counted.reduce((sum, { length }) => sum + 1 / length, 0)) / counted.length;
  const variance = between.sigma ** 2 - ofMeans;
  return {
    mean: between.mean, means: between.values, movingRanges: between.movingRanges, deviations: spreads, sigmaWithin,
    sigmaBetween: Math.sqrt(Math.max(variance, 0)), betweenIsNegative: variance < 0,
    sigmaTotal: Math.sqrt(Math.max(variance, 0) + sigmaWithin ** 2),
  };
}
