import {
  cusumPoints, ewmaPoints, gLimits, hotellingT2, individualsPoints, pointsBeyond, ratePoints, runSignals, subgroupPoints, t2IndividualLimits, tLimits, type ChartPoint,
} from '#libs/spc';
import type { ChartDesign } from './design.js';
import type { ChartLimits } from './limits.js';
import type { ChartPanel, ChartSignal, PanelPoint, PanelShows } from './panel.js';
import { batchesOf, beginningsOf, countedOf, meanOf, type SeriesPoint } from './series.js';

/** A row against its limits. */
export interface Charted {
  readonly panels: readonly ChartPanel[];
  /** By panel, then by point. */
  readonly signals: readonly ChartSignal[];
}

/** A panel, with what its signals need. */
interface Drawn {
  readonly panel: ChartPanel;
  /** Points, from 1, across which no pattern of rules reaches; null where nothing but a limit is asked about. */
  readonly begins: readonly number[] | null;
}

/** The limits of a chart in one of its kinds. */
type LimitsOf<K extends ChartLimits['chart']> = Extract<ChartLimits, { readonly chart: K }>;

/**
 * The points of a row against limits that stand, and where they signal. Of the first panel signal the rules that the design
 * names, one by one; of the others, and of averages, sums, gaps and T², points beyond a limit. For `t-squared` the limit of the
 * rows that mean and covariance came from (`trial`) is another than that of later ones. Throws RangeError when design and limits
 * are of different charts, or the points do not fit them.
 */
export function charted(design: ChartDesign, limits: ChartLimits, series: readonly SeriesPoint[], phase: 'trial' | 'monitoring' = 'monitoring'): Charted {
  if (design.chart !== limits.chart) throw new RangeError(`limits of the chart ${limits.chart} for a chart ${design.chart}`);
  const drawn = panelsOf(design, limits, series, phase);
  return { panels: drawn.map(({ panel }) => panel), signals: drawn.flatMap((one, index) => signalsOf(one, index, design)) };
}

type ValueLimits = LimitsOf<'individuals' | 'long-term' | 'batch-means'>;

function panelsOf(design: ChartDesign, limits: ChartLimits, series: readonly SeriesPoint[], phase: 'trial' | 'monitoring'): Drawn[] {
  switch (limits.chart) {
    case 'mean-range':
    case 'mean-deviation': return subgroupPanels(limits, series);
    case 'between-within': return betweenWithinPanels(limits, series);
    case 'individuals': return individualsPanels(limits, series);
    case 'long-term': return [byRules('values', individualsPoints(series.map(meanOf), limits).values, beginningsOf(series))];
    case 'batch-means': return batchPanels(design, limits, series);
    case 'residuals': return residualPanels(limits, series);
    case 'ewma': return ewmaPanels(design, limits, series);
    case 'cusum': return cusumPanels(design, limits, series);
    case 't-squared': return [t2Panel(design, limits, series, phase)];
    case 't':
    case 'g': return [gapPanel(limits, series)];
    default: return [countPanel(limits, series)];
  }
}

const beyondLimits = (shows: PanelShows, points: readonly PanelPoint[]): Drawn => ({ panel: { shows, points }, begins: null });
const byRules = (shows: PanelShows, points: readonly ChartPoint[], begins: readonly number[]): Drawn => ({ panel: { shows, points: points.map((point) => placed(point)) }, begins });

/** Of one point of the row, or of those that the function says. */
const placed = ({ point, value, centre, lower, upper, standardError }: ChartPoint, from = point - 1, to = from): PanelPoint => ({ from, to, value, centre, lower, upper, standardError });

function subgroupPanels(limits: LimitsOf<'mean-range' | 'mean-deviation'>, series: readonly SeriesPoint[]): Drawn[] {
  const spread = limits.chart === 'mean-range' ? 'ranges' : 'deviations';
  const { means, spreads } = subgroupPoints(spread, series.map(({ values }) => values), limits);
  return [byRules('means', means, beginningsOf(series)), beyondLimits(spread, spreads.map((point) => placed(point)))];
}

function betweenWithinPanels({ mean, sigmaMeans, sigmaWithin }: LimitsOf<'between-within'>, series: readonly SeriesPoint[]): Drawn[] {
  const { values, movingRanges } = individualsPoints(series.map(meanOf), { mean, sigma: sigmaMeans });
  const { spreads } = subgroupPoints('deviations', series.map((point) => point.values), { mean, sigma: sigmaWithin });
  return [byRules('means', values, []), beyondLimits('moving ranges', movingRanges.map(ofTwo)), beyondLimits('deviations', spreads.map((point) => placed(point)))];
}

function individualsPanels(limits: ValueLimits, series: readonly SeriesPoint[]): Drawn[] {
  const beginsAnew = beginningsOf(series);
  const { values, movingRanges } = individualsPoints(series.map(meanOf), limits, { beginsAnew });
  return [byRules('values', values, beginsAnew), beyondLimits('moving ranges', movingRanges.map(ofTwo))];
}

const ofTwo = (range: ChartPoint): PanelPoint => placed(range, range.point - 2, range.point - 1);

function batchPanels({ batchSize }: ChartDesign, limits: ValueLimits, series: readonly SeriesPoint[]): Drawn[] {
  const batches = batchesOf(series, batchSize ?? NaN);
  const beginsAnew = beginningsOf(batches);
  const { values, movingRanges } = individualsPoints(batches.map(({ mean }) => mean), limits, { beginsAnew });
  const from = (point: number): number => batches[point - 1]?.from ?? NaN;
  const to = (point: number): number => batches[point - 1]?.to ?? NaN;
  return [
    { panel: { shows: 'batch means', points: values.map((point) => placed(point, from(point.point), to(point.point))) }, begins: beginsAnew },
    beyondLimits('moving ranges', movingRanges.map((range) => placed(range, from(range.point - 1), to(range.point)))),
  ];
}

/** What is left of each value by the one before it; the first of a stretch has none before it. */
function residualPanels({ mean, phi, sigma }: LimitsOf<'residuals'>, series: readonly SeriesPoint[]): Drawn[] {
  const values = series.map(meanOf);
  const left = values.flatMap((value, index) => {
    const isFirst = index === 0 || series[index]?.beginsAnew === true;
    return isFirst ? [] : [{ index, residual: value - mean - phi * ((values[index - 1] ?? NaN) - mean) }];
  });
  const points = individualsPoints(left.map(({ residual }) => residual), { mean: 0, sigma }).values
    .map((point, at) => placed(point, (left[at]?.index ?? NaN) - 1, left[at]?.index));
  const begins = left.flatMap(({ index }, at) => (at > 0 && left[at - 1]?.index !== index - 1 ? [at + 1] : []));
  return [{ panel: { shows: 'residuals', points }, begins }];
}

function ewmaPanels({ lambda, width }: ChartDesign, { mean, sigma }: LimitsOf<'ewma' | 'cusum'>, series: readonly SeriesPoint[]): Drawn[] {
  const points = ewmaPoints(series.map(meanOf), { target: mean, sigma, lambda: lambda ?? NaN, width: width ?? NaN }, { beginsAnew: beginningsOf(series) });
  return [beyondLimits('weighted averages', points.map((point) => placed(point)))];
}

function cusumPanels({ k, h }: ChartDesign, { mean, sigma }: LimitsOf<'ewma' | 'cusum'>, series: readonly SeriesPoint[]): Drawn[] {
  const limit = (h ?? NaN) * sigma;
  const points = cusumPoints(series.map(meanOf), { target: mean, k: (k ?? NaN) * sigma, h: limit }, beginningsOf(series));
  const sums = (shows: PanelShows, of: (point: (typeof points)[number]) => number): Drawn =>
    beyondLimits(shows, points.map((point, index) => ({ from: index, to: index, value: of(point), centre: 0, lower: null, upper: limit, standardError: null })));
  return [sums('sums above', ({ high }) => high), sums('sums below', ({ low }) => low)];
}

function t2Panel({ alpha }: ChartDesign, { means, covariance, rows }: LimitsOf<'t-squared'>, series: readonly SeriesPoint[], phase: 'trial' | 'monitoring'): Drawn {
  const { phase1, phase2 } = t2IndividualLimits(rows, { characteristics: means.length, alpha: alpha ?? NaN });
  const upper = phase === 'trial' ? phase1 : phase2;
  // On average T² of p independent characteristics is p: where the centre is drawn says no more than that.
  return beyondLimits('T²', series.map(({ values }, index) => ({
    from: index, to: index, value: hotellingT2(values, { mean: means, covariance }), centre: means.length, lower: null, upper, standardError: null,
  })));
}

function gapPanel({ chart, mean }: LimitsOf<'t' | 'g'>, series: readonly SeriesPoint[]): Drawn {
  const limits = chart === 't' ? tLimits(mean) : gLimits(mean);
  return beyondLimits('gaps', series.map((point, index) => ({
    from: index, to: index, value: chart === 't' ? meanOf(point) : Math.floor(meanOf(point)), ...limits, standardError: null,
  })));
}

type CountLimits = LimitsOf<'p' | 'np' | 'c' | 'u' | 'adjusted-p' | 'adjusted-u'>;

function countPanel(limits: CountLimits, series: readonly SeriesPoint[]): Drawn {
  const { chart, rate } = limits;
  const isOfItems = chart === 'p' || chart === 'np' || chart === 'adjusted-p';
  const counted = series.map(countedOf);
  const points = ratePoints(isOfItems ? 'items' : 'units', counted, rate, 'sigmaZ' in limits ? limits.sigmaZ : 1);
  if (chart !== 'np' && chart !== 'c') return byRules(isOfItems ? 'shares' : 'rates', points, beginningsOf(series));
  return byRules('counts', points.map((point, index) => inNumbers(point, counted[index]?.of ?? NaN)), beginningsOf(series));
}

const inNumbers = (point: ChartPoint, of: number): ChartPoint =>
  ({ ...point, value: point.value * of, centre: point.centre * of, lower: point.lower * of, upper: point.upper * of, standardError: point.standardError * of });

function signalsOf({ panel: { points }, begins }: Drawn, panel: number, { rules }: ChartDesign): ChartSignal[] {
  if (begins === null) {
    return pointsBeyond(points.map(({ value, lower, upper }, index) => ({ point: index + 1, value, lower: lower ?? -Infinity, upper: upper ?? Infinity })))
      .map((point) => ({ panel, rule: 'beyondLimit' as const, point: point - 1, points: [point - 1] }));
  }
  return runSignals(points.map(({ value, centre, standardError }) => ({ value, centre, standardError: standardError ?? NaN })), rules, begins)
    .map((signal) => ({ panel, rule: signal.rule, point: signal.point - 1, points: signal.points.map((one) => one - 1) }));
}
