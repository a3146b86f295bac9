import {
  adjustedPChart, adjustedUChart, individualsCharts, longTermLimits, meanAndCovariance, meanDeviationCharts, meanRangeCharts, pChart, summaryOf, tChart, gChart, uChart, type LeftOut,
} from '#libs/spc';
import type { ChartDesign, ChartKind } from './design.js';
import type { ChartLimits } from './limits.js';
import { batchesOf, beginningsOf, countedOf, meanOf, neighboursOf, type SeriesPoint } from './series.js';

/** A point that is not to count for the limits, by its place in the row from 0, and why. */
export interface RemovedPoint {
  readonly index: number;
  readonly because: string;
}

/** The row that limits are taken from, and the points of it that are not to count. */
interface Trial {
  readonly design: ChartDesign;
  readonly series: readonly SeriesPoint[];
  readonly leftOut: readonly LeftOut[];
  /** By index. */
  readonly isRemoved: ReadonlySet<number>;
}

type Finder = (trial: Trial) => ChartLimits;

/**
 * The limits of each chart from the points that count, by the functions of libs/spc, which name their sources. Where limits come
 * from moving ranges none reaches across a beginning, but for `between-within`: there what lies between stretches, as from coil to
 * coil, is what is charted.
 */
const FINDERS: Readonly<Record<ChartKind, Finder>> = {
  'mean-range': ({ series, leftOut }) => ofSubgroups('mean-range', meanRangeCharts(series.map(({ values }) => values), leftOut)),
  'mean-deviation': ({ series, leftOut }) => ofSubgroups('mean-deviation', meanDeviationCharts(series.map(({ values }) => values), leftOut)),
  'between-within': ({ series, leftOut }) => {
    const { sigma: sigmaWithin } = meanDeviationCharts(series.map(({ values }) => values), leftOut);
    const { mean, sigma: sigmaMeans } = individualsCharts(series.map(meanOf), { leftOut });
    return { chart: 'between-within', mean, sigmaWithin, sigmaMeans };
  },
  individuals: (trial) => ({ chart: 'individuals', ...byMovingRanges(trial) }),
  ewma: (trial) => ({ chart: 'ewma', ...byMovingRanges(trial) }),
  cusum: (trial) => ({ chart: 'cusum', ...byMovingRanges(trial) }),
  'long-term': ({ series, isRemoved }) => {
    const { centre, upper } = longTermLimits(kept(series, isRemoved).map(meanOf), 1);
    return { chart: 'long-term', mean: centre, sigma: demanded(upper - centre) };
  },
  'batch-means': batchMeanLimits,
  residuals: residualLimits,
  p: ({ series, leftOut }) => ({ chart: 'p', rate: pChart(series.map(countedOf), leftOut).rate }),
  np: ({ series, leftOut }) => ({ chart: 'np', rate: pChart(series.map(countedOf), leftOut).rate }),
  'adjusted-p': ({ series, leftOut }) => ({ chart: 'adjusted-p', ...adjustedRate(adjustedPChart(series.map(countedOf), { leftOut, beginsAnew: beginningsOf(series) })) }),
  c: ({ series, leftOut }) => ({ chart: 'c', rate: uChart(demandEqual(series), leftOut).rate }),
  u: ({ series, leftOut }) => ({ chart: 'u', rate: uChart(series.map(countedOf), leftOut).rate }),
  'adjusted-u': ({ series, leftOut }) => ({ chart: 'adjusted-u', ...adjustedRate(adjustedUChart(series.map(countedOf), { leftOut, beginsAnew: beginningsOf(series) })) }),
  t: ({ series, leftOut }) => ({ chart: 't', mean: tChart(series.map(meanOf), leftOut).mean }),
  g: ({ series, leftOut }) => ({ chart: 'g', mean: gChart(series.map((point) => Math.floor(meanOf(point))), leftOut).mean }),
  't-squared': ({ series, isRemoved }) => {
    const rows = kept(series, isRemoved).map(({ values }) => values);
    const { mean, covariance } = meanAndCovariance(rows);
    return { chart: 't-squared', means: mean, covariance, rows: rows.length };
  },
};

/**
 * The limits of a chart from a row of points, without those that were removed. Throws RangeError, as the chart's own function
 * does, when the points do not fit the chart, nothing counts, or nothing varies.
 */
export function trialLimits(design: ChartDesign, series: readonly SeriesPoint[], removed: readonly RemovedPoint[] = []): ChartLimits {
  const leftOut = removed.map(({ index, because }) => ({ point: index + 1, reason: because }));
  return FINDERS[design.chart]({ design, series, leftOut, isRemoved: new Set(removed.map(({ index }) => index)) });
}

const ofSubgroups = (chart: 'mean-range' | 'mean-deviation', { grandMean, sigma }: { readonly grandMean: number; readonly sigma: number }): ChartLimits => ({ chart, mean: grandMean, sigma });
const adjustedRate = ({ rate, sigmaZ }: { readonly rate: number; readonly sigmaZ: number }): { rate: number; sigmaZ: number } => ({ rate, sigmaZ });
const kept = (series: readonly SeriesPoint[], isRemoved: ReadonlySet<number>): SeriesPoint[] => series.filter((_, index) => !isRemoved.has(index));

function byMovingRanges({ series, leftOut }: Pick<Trial, 'series' | 'leftOut'>): { mean: number; sigma: number } {
  const { mean, sigma } = individualsCharts(series.map(meanOf), { leftOut, beginsAnew: beginningsOf(series) });
  return { mean, sigma };
}

/** A batch with a removed point in it does not count, and says the same reason. */
function batchMeanLimits({ design, series, leftOut }: Trial): ChartLimits {
  const batches = batchesOf(series, design.batchSize ?? NaN);
  const reasonIn = (from: number, to: number): string | undefined => leftOut.find(({ point }) => point > from && point <= to + 1)?.reason;
  const out = batches.flatMap(({ from, to }, index) => {
    const reason = reasonIn(from, to);
    return reason === undefined ? [] : [{ point: index + 1, reason }];
  });
  const { mean, sigma } = individualsCharts(batches.map((batch) => batch.mean), { leftOut: out, beginsAnew: beginningsOf(batches) });
  return { chart: 'batch-means', mean, sigma };
}

/**
 * φ by least squares over all pairs of neighbours that count, about their common mean: d(t) = φ d(t − 1) + e(t) (Box, Jenkins and
 * Reinsel, Time Series Analysis, conditional least squares, from memory). It fits stretches that begin anew, which the likelihood of one
 * stretch in libs/spc does not. A row that drifts can come to a φ past 1, which is that of no process with a mean: n pairs tell it no
 * nearer to 1, or to −1, than by 1/n, as in `lagOneOf` (our own choice). The standard deviation is that of the residuals, with one
 * degree of freedom less for φ and one for the mean.
 */
function residualLimits({ series, isRemoved }: Trial): ChartLimits {
  const values = series.map(meanOf);
  const { mean } = summaryOf(values.filter((_, index) => !isRemoved.has(index)));
  const marked = series.map(({ beginsAnew }, index) => ({ beginsAnew: beginsAnew || isRemoved.has(index) || isRemoved.has(index - 1) }));
  const pairs = neighboursOf(values.map((value) => value - mean), marked);
  if (pairs.length < 3) throw new RangeError(`residuals need at least 3 pairs of neighbours: ${pairs.length}`);
  const squares = pairs.reduce((sum, [before]) => sum + before * before, 0);
  const nearest = 1 - 1 / pairs.length;
  const phi = Math.max(-nearest, Math.min(nearest, pairs.reduce((sum, [before, value]) => sum + before * value, 0) / squares));
  const left = pairs.reduce((sum, [before, value]) => sum + (value - phi * before) ** 2, 0);
  return { chart: 'residuals', mean, phi, sigma: demanded(Math.sqrt(left / (pairs.length - 2))) };
}

function demanded(sigma: number): number {
  if (!(sigma > 0 && sigma < Infinity)) throw new RangeError('the values show no spread to take limits from');
  return sigma;
}

/** Counts in equal lengths. */
function demandEqual(series: readonly SeriesPoint[]): ReturnType<typeof countedOf>[] {
  const counted = series.map(countedOf);
  const other = counted.find(({ of }) => of !== counted[0]?.of);
  if (other !== undefined) throw new RangeError(`a chart c is of equal opportunities: ${counted[0]?.of ?? 0} and ${other.of}; of unequal ones take u`);
  return counted;
}
