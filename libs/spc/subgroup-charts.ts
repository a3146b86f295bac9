import { controlChartFactors } from './constants.js';
import { type ChartPoint, counting, demandSpread, type LeftOut, reasonsByPoint, withLimits } from './control-chart.js';
import { type Summary, summaryOf } from './summary.js';

/** Two charts of subgroups: where they lie, and how far their values spread. In the unit of the values. */
export interface SubgroupCharts {
  /** The mean of all values of the subgroups that count. */
  readonly grandMean: number;
  /** The standard deviation within subgroups that the limits stand on; with pooled deviations and unequal subgroups each point has its own. */
  readonly sigma: number;
  readonly means: readonly ChartPoint[];
  readonly spreads: readonly ChartPoint[];
}

export interface MeanRangeCharts extends SubgroupCharts {
  /** The mean of the ranges that count; it is the centre of the chart of ranges where all subgroups are of one size. */
  readonly meanRange: number;
}

export interface MeanDeviationCharts extends SubgroupCharts {
  /** The centre of the chart of deviations: their mean, or their pooled value. */
  readonly meanDeviation: number;
}

interface Subgroup {
  readonly n: number;
  readonly mean: number;
  /** Its range or its standard deviation. */
  readonly spread: number;
}

/** What a spread of n values with sigma = 1 is on average, and its standard deviation. */
type SpreadOf = (n: number) => { readonly mean: number; readonly deviation: number };

const ofRanges: SpreadOf = (n) => {
  const { d2, d3 } = controlChartFactors(n);
  return { mean: d2, deviation: d3 };
};
const ofDeviations: SpreadOf = (n) => {
  const { c4 } = controlChartFactors(n);
  return { mean: c4, deviation: Math.sqrt(1 - c4 * c4) };
};

/**
 * Charts of means and ranges: X̄ ± 3 σ/√n, d2 σ ± 3 d3 σ, with σ from the ranges. Subgroups of one size give σ = R̄/d2, and the
 * limits X̄ ± A2 R̄, D3 R̄ and D4 R̄ (ISO 7870-2; ASTM E2587). Of unequal ones each R/d2 counts by d2²/d3², the inverse of its
 * variance (I. W. Burr, Control charts for measurements with varying sample sizes, Journal of Quality Technology 1, 1969,
 * 163-167, from memory). Left-out subgroups are charted and do not count for the limits.
 * Throws RangeError when a subgroup has fewer than 2 values, a value is not finite, nothing counts or nothing varies.
 */
export function meanRangeCharts(subgroups: readonly (readonly number[])[], leftOut: readonly LeftOut[] = []): MeanRangeCharts {
  const reasons = reasonsByPoint(leftOut, subgroups.length);
  const groups = subgroups.map((values) => groupOf(values, rangeOf));
  const counted = counting(groups, reasons);
  const [sigma, meanRange] = [weighted(counted, ofRanges), meanOf(counted.map(({ spread }) => spread))];
  return { ...chartsOf(groups, reasons, ofRanges, () => sigma), sigma, meanRange };
}

/**
 * Charts of means and sample standard deviations: X̄ ± 3 σ/√n, c4 σ ± 3 √(1 − c4²) σ. Subgroups of one size give σ = s̄/c4, and
 * the limits X̄ ± A3 s̄, B3 s̄ and B4 s̄ (ISO 7870-2; ASTM E2587).
 *
 * Of unequal ones `mean` takes each s/c4 by c4²/(1 − c4²), the inverse of its variance, as above. `pooled` takes
 * s̄ = √(Σ (n − 1) s²/Σ (n − 1)) for the centre and A3, B3, B4 of each n with it (Montgomery, Introduction to Statistical
 * Quality Control, section on variable sample sizes, from memory): the practice of textbooks, whose limits are wider by 1/c4.
 * Left-out subgroups, and errors, are as for ranges.
 */
export function meanDeviationCharts(
  subgroups: readonly (readonly number[])[], leftOut: readonly LeftOut[] = [], estimate: 'mean' | 'pooled' = 'mean',
): MeanDeviationCharts {
  const reasons = reasonsByPoint(leftOut, subgroups.length);
  const groups = subgroups.map((values) => groupOf(values, deviationOf));
  const counted = counting(groups, reasons);
  if (estimate === 'mean') {
    const sigma = weighted(counted, ofDeviations);
    return { ...chartsOf(groups, reasons, ofDeviations, () => sigma), sigma, meanDeviation: meanOf(counted.map(({ spread }) => spread)) };
  }
  const degrees = counted.reduce((sum, { n }) => sum + n - 1, 0);
  const pooled = Math.sqrt(counted.reduce((sum, { n, spread }) => sum + (n - 1) * spread * spread, 0) / degrees);
  return { ...chartsOf(groups, reasons, ofDeviations, (n) => pooled / ofDeviations(n).mean), sigma: pooled, meanDeviation: pooled };
}

/**
 * New subgroups against limits that stand, with the mean and the standard deviation within subgroups that were approved; each
 * point by its own size. Throws RangeError when a subgroup has fewer than 2 values, a value is not finite, or the standard
 * deviation is not above 0.
 */
export function subgroupPoints(
  spread: 'ranges' | 'deviations', subgroups: readonly (readonly number[])[], { mean, sigma }: { readonly mean: number; readonly sigma: number },
): Pick<SubgroupCharts, 'means' | 'spreads'> {
  const groups = subgroups.map((values) => groupOf(values, spread === 'ranges' ? rangeOf : deviationOf));
  return pointsOf(groups, new Map(), spread === 'ranges' ? ofRanges : ofDeviations, { mean, sigmaOf: () => sigma });
}

type SpreadIn = (summary: Summary) => number;
const rangeOf: SpreadIn = ({ min, max }) => max - min;
const deviationOf: SpreadIn = ({ standardDeviation }) => standardDeviation ?? NaN;

function groupOf(values: readonly number[], spread: SpreadIn): Subgroup {
  if (values.length < 2) throw new RangeError(`a subgroup has at least 2 values: ${values.length}`);
  const summary = summaryOf(values);
  return { n: summary.n, mean: summary.mean, spread: spread(summary) };
}

function chartsOf(
  groups: readonly Subgroup[], reasons: ReadonlyMap<number, string>, spreadOf: SpreadOf, sigmaOf: (n: number) => number,
): Pick<SubgroupCharts, 'grandMean' | 'means' | 'spreads'> {
  const grandMean = grandMeanOf(counting(groups, reasons));
  return { grandMean, ...pointsOf(groups, reasons, spreadOf, { mean: grandMean, sigmaOf }) };
}

function pointsOf(
  groups: readonly Subgroup[], reasons: ReadonlyMap<number, string>, spreadOf: SpreadOf,
  { mean: centre, sigmaOf }: { readonly mean: number; readonly sigmaOf: (n: number) => number },
): Pick<SubgroupCharts, 'means' | 'spreads'> {
  for (const { n } of groups) demandSpread(sigmaOf(n), 'the values within the subgroups');
  const means = groups.map(({ n, mean }, index) =>
    withLimits({ point: index + 1, value: mean, centre, standardError: sigmaOf(n) / Math.sqrt(n) }, reasons));
  const spreads = groups.map(({ n, spread }, index) => {
    const [{ mean, deviation }, sigma] = [spreadOf(n), sigmaOf(n)];
    return withLimits({ point: index + 1, value: spread, centre: mean * sigma, standardError: deviation * sigma }, reasons, 0);
  });
  return { means, spreads };
}

/** Weighted by the sizes, over differences from the first, so that a large common part costs no digits. */
function grandMeanOf(groups: readonly Subgroup[]): number {
  const first = groups[0]?.mean ?? NaN;
  const count = groups.reduce((sum, { n }) => sum + n, 0);
  return first + groups.reduce((sum, { n, mean }) => sum + n * (mean - first), 0) / count;
}

function weighted(groups: readonly Subgroup[], spreadOf: SpreadOf): number {
  let [sum, weights] = [0, 0];
  for (const { n, spread } of groups) {
    const { mean, deviation } = spreadOf(n);
    const weight = (mean / deviation) ** 2;
    sum += (weight * spread) / mean;
    weights += weight;
  }
  return sum / weights;
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
