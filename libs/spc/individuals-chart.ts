import { controlChartFactors } from './constants.js';
import { type ChartPoint, counting, demandSpread, type LeftOut, reasonsByPoint, withLimits } from './control-chart.js';
import { summaryOf } from './summary.js';

/** A chart of single values and one of their moving ranges, in the unit of the values. */
export interface IndividualsCharts {
  readonly mean: number;
  readonly meanMovingRange: number;
  /** The short-term standard deviation, the mean moving range over d2. */
  readonly sigma: number;
  readonly values: readonly ChartPoint[];
  /** Each by the number of its last value; none where the values before it belong to another stretch. */
  readonly movingRanges: readonly ChartPoint[];
}

export interface IndividualsOptions {
  readonly leftOut?: readonly LeftOut[];
  /** Points before which something else began, as after a splice or a stop: no moving range reaches across. */
  readonly beginsAnew?: readonly number[];
  /** How many values in a row a moving range is taken of, 2 if not given. */
  readonly span?: number;
}

/**
 * Charts of individuals and moving ranges: x̄ ± 3 σ and D3, D4 times the mean moving range, with σ = mean moving range/d2 of the
 * span (ISO 7870-2; ASTM E2587). A range with a left-out value in it does not count, and says the same reason. The limits are
 * for independent values: moving ranges of correlated ones are too small.
 * Throws RangeError when the span is not a whole number of at least 2, a value is not finite, no moving range counts, or
 * nothing varies.
 */
export function individualsCharts(values: readonly number[], { leftOut = [], beginsAnew = [], span = 2 }: IndividualsOptions = {}): IndividualsCharts {
  const { d2, d3 } = controlChartFactors(span);
  values.forEach(demandFinite);
  const reasons = reasonsByPoint(leftOut, values.length);
  const { mean } = summaryOf(counting(values, reasons));
  const ranges = movingRanges(values, span, new Set(beginsAnew));
  const rangeReasons = new Map(ranges.flatMap(({ point }) => {
    const reason = reasonWithin(reasons, point - span + 1, point);
    return reason === undefined ? [] : [[point, reason] as const];
  }));
  const counted = ranges.filter(({ point }) => !rangeReasons.has(point));
  if (counted.length === 0) throw new RangeError('no moving range is left to take limits from');
  const meanMovingRange = counted.reduce((sum, { range }) => sum + range, 0) / counted.length;
  const sigma = meanMovingRange / d2;
  demandSpread(sigma, 'the values, one after another,');
  return {
    mean, meanMovingRange, sigma,
    values: values.map((value, index) => withLimits({ point: index + 1, value, centre: mean, standardError: sigma }, reasons)),
    movingRanges: ranges.map(({ point, range }) =>
      withLimits({ point, value: range, centre: meanMovingRange, standardError: d3 * sigma }, rangeReasons, 0)),
  };
}

/**
 * New values against limits that stand, with the mean and the standard deviation that were approved. Throws RangeError when the
 * span is not a whole number of at least 2, a value is not finite, or the standard deviation is not above 0.
 */
export function individualsPoints(
  values: readonly number[], { mean, sigma }: { readonly mean: number; readonly sigma: number },
  { beginsAnew = [], span = 2 }: Omit<IndividualsOptions, 'leftOut'> = {},
): Pick<IndividualsCharts, 'values' | 'movingRanges'> {
  demandSpread(sigma, 'the values, one after another,');
  const { d2, d3 } = controlChartFactors(span);
  values.forEach(demandFinite);
  return {
    values: values.map((value, index) => withLimits({ point: index + 1, value, centre: mean, standardError: sigma }, new Map())),
    movingRanges: movingRanges(values, span, new Set(beginsAnew)).map(({ point, range }) =>
      withLimits({ point, value: range, centre: d2 * sigma, standardError: d3 * sigma }, new Map(), 0)),
  };
}

function movingRanges(values: readonly number[], span: number, beginsAnew: ReadonlySet<number>): { point: number; range: number }[] {
  const ranges: { point: number; range: number }[] = [];
  let since = 1;
  for (let point = 1; point <= values.length; point++) {
    if (beginsAnew.has(point)) since = point;
    if (point - since + 1 < span) continue;
    const within = values.slice(point - span, point);
    ranges.push({ point, range: Math.max(...within) - Math.min(...within) });
  }
  return ranges;
}

function reasonWithin(reasons: ReadonlyMap<number, string>, from: number, to: number): string | undefined {
  for (let point = from; point <= to; point++) if (reasons.has(point)) return reasons.get(point);
  return undefined;
}

function demandFinite(value: number): void {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
}
