import { effectiveCount, naiveChart, percentile, summaryOf } from '#libs/spc';
import { CHART_FAMILIES, type ChartDesign, type ChartKind } from './design.js';
import { areBatchesCorrelated, batchSizeFor, isCorrelated, lagOneOf, spacingFor, type LagOne } from './lag-one.js';
import type { ChartLimits } from './limits.js';
import { batchesOf, meanOf, neighboursOf, withoutPoints, type SeriesPoint } from './series.js';

export const WARNING_CODES = [
  'correlated', 'between', 'few-points', 'few-stretches', 'coarse-readings', 'rare', 'signals-left', 'drift-unseen', 'correlation-hidden', 'not-in-force', 'chart-amended', 'few-independent',
  'not-normal', 'within-only',
] as const;

/** What is to be minded of a chart, in a sentence. */
export interface ChartWarning {
  readonly code: (typeof WARNING_CODES)[number];
  readonly text: string;
}

export interface Advice {
  /** Of the points that are charted; of several channels that with the most; null where the row is too short or does not vary. */
  readonly lagOne: LagOne | null;
  readonly warnings: readonly ChartWarning[];
  /** Charts that would do better, the best first; none where nothing speaks against the chart itself. */
  readonly better: readonly ChartDesign[];
}

/** A row from which limits are taken, with all that is known of them. */
export interface AdvisedRow {
  readonly design: ChartDesign;
  readonly limits: ChartLimits;
  /** The points that count. */
  readonly series: readonly SeriesPoint[];
  /** How many coils, or other stretches of one strip, they are from; null where the points know of none. */
  readonly coils: number | null;
  /** Points of it that signal against the limits that come from them. */
  readonly signalling: number;
}

/** Fewer points, and coils, make no limits that last: common practice, no published source. */
const POINTS_AT_LEAST = 20;
const COILS_AT_LEAST = 3;
/** Where φ is worth a model of it. Our own choice. */
const POINTS_FOR_RESIDUALS = 50;
/** Means spread by so much more than what varies within them explains. Our own choice: by chance alone 25 subgroups come to 1.5 in one of 1,000 cases. */
const BETWEEN_AT_LEAST = 1.5;
/** Below it the limits of counts say little. Common practice, no published source. */
const COUNT_AT_LEAST = 1;

/** Charts whose limits take points for independent. */
const NAIVE: ReadonlySet<ChartKind> = new Set(['mean-range', 'mean-deviation', 'individuals', 'ewma', 'cusum', 'between-within', 'batch-means']);

/**
 * What speaks against limits that were found from a row, and which chart would do better. A chart that takes its points for
 * independent lies where they are not (`naiveChart`): it is always told by how much.
 */
export function adviceOn(row: AdvisedRow): Advice {
  const { design, series } = row;
  const lagOne = lagOf(row);
  const isTooMuch = design.chart === 'batch-means' ? areBatchesCorrelated : isCorrelated;
  const correlated = NAIVE.has(design.chart) && isTooMuch(lagOne) ? lagOne : null;
  const between = ratioBetween(row);
  return {
    lagOne,
    warnings: [
      ...(correlated === null ? [] : [{ code: 'correlated' as const, text: correlatedText(correlated) }]),
      ...(design.chart === 't-squared' && isCorrelated(lagOne) ? [{ code: 'correlated' as const, text: correlatedRowsText(lagOne) }] : []),
      ...(between === null ? [] : [{ code: 'between' as const, text: `The means of the subgroups spread ${between.toFixed(1)} times as far as what varies within them explains: limits from within are too narrow for them.` }]),
      ...fewWarnings(row, lagOne), ...coarseWarning(row), ...rareWarning(row), ...driftWarning(row), ...hiddenWarning(row, lagOne),
      ...(row.signalling === 0 ? [] : [{ code: 'signals-left' as const, text: `${row.signalling} of the ${series.length} points signal against limits that come from them: find their causes and leave them out with the reason, or say why they belong.` }]),
    ],
    better: betterCharts(row, correlated, between !== null),
  };
}

function lagOf({ design, series }: AdvisedRow): LagOne | null {
  if (design.chart === 'batch-means') {
    const batches = batchesOf(series, design.batchSize ?? NaN);
    return lagOneOf(batches.map(({ mean }) => mean), batches);
  }
  if (CHART_FAMILIES[design.chart] !== 'vectors') return lagOneOf(series.map(plotted), series);
  const channels = (series[0]?.values ?? []).map((_, channel) => lagOneOf(series.map(({ values }) => values[channel] ?? NaN), series));
  return channels.filter((one) => one !== null).sort((a, b) => b.phi - a.phi)[0] ?? null;
}

const plotted = (point: SeriesPoint): number => (point.of === null ? meanOf(point) : (point.values[0] ?? NaN) / point.of);

function correlatedText({ phi, interval }: LagOne): string {
  const { spreadRatio, outsideShare, cpkRatio } = naiveChart(phi);
  return `Points that follow each other resemble each other (${phiText({ phi, interval })}). On a chart of single values limits from moving ranges would be `
    + `${spreadRatio.toFixed(2)} times as wide as they should, ${percent(outsideShare)} of the points of a stable process would lie outside instead of 0.27 %, Cpk would look ${cpkRatio.toFixed(1)} times as good, `
    + `and 100 points say as much of the mean as ${independentText(ofHundred(phi))}.${spacingText('Points', phi)}`;
}

/** Its limit takes rows for independent, and no chart here takes several channels otherwise. */
const correlatedRowsText = ({ phi, interval }: LagOne): string => `Rows that follow each other resemble each other (${phiText({ phi, interval })} of the channel with the most), and the limit takes them for independent: `
  + `false alarms come in a row, a common drift may hide, and 100 rows say as much of the means as ${independentText(ofHundred(phi))}.${spacingText('Rows', phi)} Beside it chart each channel by itself.`;

const phiText = ({ phi, interval }: Pick<LagOne, 'phi' | 'interval'>): string => `lag-1 correlation ${phi.toFixed(2)}, ${interval.from.toFixed(2)} to ${interval.to.toFixed(2)}`;

const ofHundred = (phi: number): number => Math.round((100 * (1 - phi)) / (1 + phi));
const independentText = (count: number): string => (count <= 1 ? 'a single independent one' : `${count} independent ones`);

/** The remedy of fewer points; nothing where they lie far enough apart. */
function spacingText(points: 'Points' | 'Rows', phi: number): string {
  const spacing = spacingFor(phi);
  if (spacing === null) return ` ${points} would have to lie more than 1,000 times as far apart to resemble each other by less than 0.1.`;
  return spacing === 1 ? '' : ` ${points} ${spacing} times as far apart would resemble each other by less than 0.1.`;
}

const percent = (share: number): string => `${(100 * share).toPrecision(2)} %`;

/** How many times as far means spread as what varies within subgroups explains; null where it is not much more, or no matter, and of few, which differ by chance. */
function ratioBetween({ limits, series }: AdvisedRow): number | null {
  if ((limits.chart !== 'mean-range' && limits.chart !== 'mean-deviation') || series.length < POINTS_AT_LEAST) return null;
  const { standardDeviation } = summaryOf(series.map(meanOf));
  const meanSquare = series.reduce((sum, { values }) => sum + 1 / values.length, 0) / series.length;
  const ratio = (standardDeviation ?? 0) / (limits.sigma * Math.sqrt(meanSquare));
  return ratio >= BETWEEN_AT_LEAST ? ratio : null;
}

function fewWarnings(row: AdvisedRow, lagOne: LagOne | null): ChartWarning[] {
  const { coils } = row;
  const few = fewOf(row);
  return [
    ...(few === null ? [] : [{ code: 'few-points' as const, text: `Limits from ${few}; at least ${POINTS_AT_LEAST} points are usual (common practice, no published source).` }]),
    ...(few === null ? fewIndependentWarning(row, lagOne) : []),
    ...(coils === null || coils >= COILS_AT_LEAST ? [] : [{
      code: 'few-stretches' as const, text: `The points are of ${coils} ${coils === 1 ? 'coil' : 'coils'}: what differs from coil to coil is not in these limits; at least ${COILS_AT_LEAST} are usual (common practice, no published source).`,
    }]),
  ];
}

/** Charts whose spread is found from what follows each other within a stretch. */
const BY_NEIGHBOURS: ReadonlySet<ChartKind> = new Set(['individuals', 'ewma', 'cusum', 'batch-means', 'residuals', 'adjusted-p', 'adjusted-u']);

/** Of batches those count, and where a spread is from neighbours these: of points that nearly all begin anew there are next to none. Null where they are enough. */
function fewOf({ design, series }: AdvisedRow): string | null {
  const isOfBatches = design.chart === 'batch-means';
  const points = isOfBatches ? batchesOf(series, design.batchSize ?? NaN) : series;
  if (points.length < POINTS_AT_LEAST) return `${points.length} ${isOfBatches ? 'batches' : 'points'} are uncertain`;
  const pairs = BY_NEIGHBOURS.has(design.chart) ? neighboursOf(points.map(() => 0), points).length : Infinity;
  return pairs < POINTS_AT_LEAST - 1 ? `only ${pairs} ${pairs === 1 ? 'pair' : 'pairs'} of neighbours among ${points.length} points are uncertain` : null;
}

/**
 * Points that resemble each other have their whole spread only where they span many times the length over which they do: `longTermLimits`
 * of libs/spc. To ask for as many independent ones as are usual of points is our own choice.
 */
function fewIndependentWarning({ design, series }: AdvisedRow, lagOne: LagOne | null): ChartWarning[] {
  if (design.chart !== 'long-term' || !isCorrelated(lagOne)) return [];
  const independent = effectiveCount(series.length, lagOne.phi);
  if (independent >= POINTS_AT_LEAST) return [];
  return [{
    code: 'few-independent', text: `These ${series.length} points resemble each other so much (${phiText(lagOne)}) that they say as much of the mean as ${independentText(Math.floor(independent))}: `
      + `limits by their spread are uncertain; at least ${POINTS_AT_LEAST} points are usual (common practice, no published source).`,
  }];
}

/** The step between readings is coarser than their spread: limits then follow the gauge. Common practice, no published source. Of few readings none need be near another. */
function coarseWarning({ limits, series }: AdvisedRow): ChartWarning[] {
  if (!('sigma' in limits)) return [];
  const all = series.flatMap(({ values }) => values);
  if (all.length < POINTS_AT_LEAST) return [];
  const readings = [...new Set(all)].sort((a, b) => a - b);
  const step = readings.slice(1).reduce((least, value, index) => Math.min(least, value - (readings[index] ?? NaN)), Infinity);
  return step > limits.sigma && step < Infinity
    ? [{ code: 'coarse-readings', text: `The readings go in steps of ${step.toPrecision(2)}, coarser than their standard deviation ${limits.sigma.toPrecision(2)}: the limits follow the gauge.` }] : [];
}

function rareWarning({ limits, series }: AdvisedRow): ChartWarning[] {
  if (!('rate' in limits)) return [];
  const average = series.reduce((sum, { values }) => sum + (values[0] ?? NaN), 0) / series.length;
  return average >= COUNT_AT_LEAST ? [] : [{ code: 'rare', text: `On average ${average.toPrecision(2)} a point: a chart of the pipe between them shows a change sooner.` }];
}

/** Above it less than a tenth of a lasting shift is left in the residuals: d(t) − φ d(t − 1) of a level d is (1 − φ) d. Our own choice. */
const DRIFT_SEEN_UP_TO = 0.9;

function driftWarning({ limits }: AdvisedRow): ChartWarning[] {
  if (limits.chart !== 'residuals' || limits.phi <= DRIFT_SEEN_UP_TO) return [];
  return [{
    code: 'drift-unseen', text: `Values follow the one before so closely (${limits.phi.toFixed(2)} of its distance from the mean) that a lasting shift shows in full at its first point, and with ${percent(Math.max(0, 1 - limits.phi))} of it after: `
      + 'a slow drift hardly signals here. Chart the level beside it, with limits by the long-term spread.',
  }];
}

/** So many robust standard deviations from the median a point is far from all others: of a normal row one in 500 million. Our own choice. */
const FAR_AT_LEAST = 6;
/**
 * Of a normal distribution the median distance from the median is the standard deviation over 1.4826 (Hampel, Journal of the American
 * Statistical Association 69, 1974, 383-393, from memory).
 */
const SIGMA_OF_MEDIAN_DISTANCE = 1.4826;

/** A point far from all others adds to the spread and to no product of neighbours: one is enough to make a row look independent. */
function hiddenWarning({ design, series }: AdvisedRow, lagOne: LagOne | null): ChartWarning[] {
  if (!NAIVE.has(design.chart) || design.chart === 'batch-means' || lagOne === null || isCorrelated(lagOne)) return [];
  const far = farPoints(series.map(plotted));
  if (far.size === 0) return [];
  const near = withoutPoints(series, far);
  const hidden = lagOneOf(near.map(plotted), near);
  if (!isCorrelated(hidden)) return [];
  const [lie, them, their] = far.size === 1 ? ['1 point lies far from all others and hides', 'it', 'its'] : [`${far.size} points lie far from all others and hide`, 'them', 'their'];
  return [{ code: 'correlation-hidden', text: `${lie} that neighbours resemble each other: without ${them} ${phiText(hidden)}. Find ${their} cause, leave ${them} out with the reason, and look again.` }];
}

function farPoints(values: readonly number[]): ReadonlySet<number> {
  const median = percentile(values, 0.5);
  const distances = values.map((value) => Math.abs(value - median));
  const far = FAR_AT_LEAST * SIGMA_OF_MEDIAN_DISTANCE * percentile(distances, 0.5);
  return new Set(far === 0 ? [] : distances.flatMap((distance, index) => (distance > far ? [index] : [])));
}

function betterCharts({ design, series }: AdvisedRow, correlated: LagOne | null, isBetween: boolean): ChartDesign[] {
  const points = series.length;
  const none = { lambda: null, width: null, k: null, h: null, batchSize: null, alpha: null };
  const rules = design.rules.length > 0 ? design.rules : (['oneBeyond3Sigma'] as const);
  const as = (chart: ChartKind, batchSize: number | null = null): ChartDesign => ({ ...none, rules, chart, batchSize });
  const ofPoints = design.chart === 'batch-means' && correlated !== null ? lagOneOf(series.map(plotted), series) : correlated;
  const size = ofPoints === null ? null : batchSizeFor(Math.max(ofPoints.phi, 0));
  // A batch needs as many points as make limits, or there is no chart of them.
  const batches = size !== null && points >= size * POINTS_AT_LEAST ? [as('batch-means', size)] : [];
  const ofCorrelated = correlated === null ? [] : points >= POINTS_FOR_RESIDUALS ? [as('residuals'), ...batches, as('long-term')] : [...batches, as('long-term')];
  return [...(isBetween && correlated === null ? [as('between-within')] : []), ...ofCorrelated];
}
