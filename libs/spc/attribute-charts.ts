import { type ChartPoint, counting, demandSpread, type LeftOut, reasonsByPoint, standardised, withLimits } from './control-chart.js';
import { individualsCharts, type IndividualsOptions } from './individuals-chart.js';

/** What was counted, and of how much: items looked at, metres, areas. */
export interface Counted {
  readonly count: number;
  /** The opportunity: above 0, of items a whole number. */
  readonly of: number;
}

export interface AttributeChart {
  /** All that was counted by all it was counted of, of the points that count for the limits. */
  readonly rate: number;
  readonly points: readonly ChartPoint[];
}

export interface AdjustedChart extends AttributeChart {
  /** By how much points vary beyond what chance in the counts explains: 1 for no more than that. */
  readonly sigmaZ: number;
}

/** Points that do not count, and those before which something else began: no moving range of z reaches across. */
export type AdjustedOptions = Pick<IndividualsOptions, 'leftOut' | 'beginsAnew'>;

/** The variance of one item, by the rate: p (1 − p) for items that are faulty or not, u for faults in a length or an area. */
type VarianceOf = (rate: number) => number;
const binomial: VarianceOf = (rate) => rate * (1 - rate);
const poisson: VarianceOf = (rate) => rate;

/**
 * The chart of the share of faulty items: p̄ ± 3 √(p̄ (1 − p̄)/n), within 0 and 1, each point by its own n (ISO 7870-2; Montgomery,
 * Introduction to Statistical Quality Control, chapter 7). Left-out points are charted and do not count.
 * Throws RangeError when a count is no whole number from 0 to n, n is no whole number above 0, or no item or all are faulty.
 */
export function pChart(items: readonly Counted[], leftOut: readonly LeftOut[] = []): AttributeChart {
  return rateChart('items', items, leftOut);
}

/** The same in numbers of faulty items, n p̄ ± 3 √(n p̄ (1 − p̄)): with unequal n the centre moves too. Errors as for `pChart`. */
export function npChart(items: readonly Counted[], leftOut: readonly LeftOut[] = []): AttributeChart {
  const { rate, points } = pChart(items, leftOut);
  return { rate, points: points.map((point, index) => inNumbers(point, items[index] ?? { count: NaN, of: NaN })) };
}

/**
 * The chart of faults per unit of an opportunity that may differ from point to point: ū ± 3 √(ū/n), not below 0 (ISO 7870-2;
 * Montgomery, chapter 7). `of` need not be whole: metres, or thousands of metres.
 * Throws RangeError when a count is no whole number from 0 on, an opportunity is not above 0, or there is no fault at all.
 */
export function uChart(items: readonly Counted[], leftOut: readonly LeftOut[] = []): AttributeChart {
  return rateChart('units', items, leftOut);
}

/** The chart of faults in equal opportunities: c̄ ± 3 √c̄, not below 0 (ISO 7870-2). Errors as for `uChart`. */
export function cChart(counts: readonly number[], leftOut: readonly LeftOut[] = []): AttributeChart {
  return uChart(counts.map((count) => ({ count, of: 1 })), leftOut);
}

/**
 * The chart p′, for shares that vary more than their counts explain, as of large samples from a process that is never quite the
 * same: with z = (p − p̄)/√(p̄ (1 − p̄)/n) and σz = mean moving range of z/d2, p̄ ± 3 σz √(p̄ (1 − p̄)/n), within 0 and 1
 * (D. B. Laney, Improved control charts for attributes, Quality Engineering 14, 2002, 531-537). Printed work takes d2 as
 * 1.128; here it is 2/√π. Errors as for `pChart`, and when no two points in a row of one stretch count or z does not vary.
 */
export function adjustedPChart(items: readonly Counted[], options: AdjustedOptions = {}): AdjustedChart {
  return adjusted('items', items, options);
}

/** The chart u′: the same for faults per unit, ū ± 3 σz √(ū/n). Errors as for `uChart` and `adjustedPChart`. */
export function adjustedUChart(items: readonly Counted[], options: AdjustedOptions = {}): AdjustedChart {
  return adjusted('units', items, options);
}

/**
 * New points against limits that stand: of shares (`items`) or of faults per unit (`units`), with the rate and, for p′ and u′,
 * the σz that were approved. Errors as for `pChart` and `uChart`.
 */
export function ratePoints(kind: 'items' | 'units', items: readonly Counted[], rate: number, sigmaZ = 1, leftOut: readonly LeftOut[] = []): ChartPoint[] {
  items.forEach(kind === 'items' ? demandItems : demandCounts);
  const [variance, most] = kind === 'items' ? [binomial(rate), 1] : [poisson(rate), Infinity];
  demandSpread(variance * sigmaZ, 'the counts');
  const reasons = reasonsByPoint(leftOut, items.length);
  return items.map(({ count, of }, index) => withLimits(
    { point: index + 1, value: count / of, centre: rate, standardError: sigmaZ * Math.sqrt(variance / of) }, reasons, 0, most));
}

function rateChart(kind: 'items' | 'units', items: readonly Counted[], leftOut: readonly LeftOut[]): AttributeChart {
  const counted = counting(items, reasonsByPoint(leftOut, items.length));
  const rate = sumOf(counted.map(({ count }) => count)) / sumOf(counted.map((item) => item.of));
  return { rate, points: ratePoints(kind, items, rate, 1, leftOut) };
}

function adjusted(kind: 'items' | 'units', items: readonly Counted[], { leftOut = [], beginsAnew = [] }: AdjustedOptions): AdjustedChart {
  const { rate, points } = rateChart(kind, items, leftOut);
  const { sigma: sigmaZ } = individualsCharts(standardised(points), { leftOut, beginsAnew });
  return { rate, sigmaZ, points: ratePoints(kind, items, rate, sigmaZ, leftOut) };
}

const inNumbers = ({ point, centre, lower, upper, standardError, leftOut }: ChartPoint, { count, of }: Counted): ChartPoint =>
  ({ point, leftOut, value: count, centre: of * centre, lower: of * lower, upper: of * upper, standardError: of * standardError });

function demandItems({ count, of }: Counted): void {
  if (!(Number.isSafeInteger(of) && of > 0)) throw new RangeError(`not a number of items: ${of}`);
  if (!(Number.isSafeInteger(count) && count >= 0 && count <= of)) throw new RangeError(`not a number of faulty items of ${of}: ${count}`);
}

function demandCounts({ count, of }: Counted): void {
  if (!(of > 0 && of < Infinity)) throw new RangeError(`not an opportunity: ${of}`);
  if (!(Number.isSafeInteger(count) && count >= 0)) throw new RangeError(`not a count: ${count}`);
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
