import { describe, expect, test } from '@jest/globals';
import { betweenWithinCharts, cChart, cusumPoints, individualsCharts, meanDeviationCharts, meanRangeCharts, npChart, pChart, tChart, uChart, adjustedPChart, adjustedUChart, t2IndividualLimits } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';
import { charted } from './charted.js';
import { correlatedValues, counts, design, row } from './charting.factory.js';
import { CHART_KINDS, type ChartDesign } from './design.js';
import type { SeriesPoint } from './series.js';
import { trialLimits } from './trial-limits.js';

const normal = normalNumbers(7);
const SUBGROUPS = Array.from({ length: 25 }, () => Array.from({ length: 5 }, () => 5 + 0.02 * normal()));
const VALUES = Array.from({ length: 40 }, () => 250 + normal());
const COUNTS = Array.from({ length: 30 }, (_, index) => [3 + (index % 5), 100] as const);

/** The row against the limits that come from it. */
const asTrial = (of: ChartDesign, series: readonly SeriesPoint[]): ReturnType<typeof charted> => charted(of, trialLimits(of, series), series, 'trial');
const figures = (points: readonly { value: number; centre: number; lower: number | null; upper: number | null }[]): number[][] =>
  points.map(({ value, centre, lower, upper }) => [value, centre, lower ?? NaN, upper ?? NaN].map((one) => Number(one.toPrecision(12))));

describe('a row against the limits that come from it has the figures of its chart', () => {
  test('of subgroups', () => {
    const [ranges, deviations, three] = [meanRangeCharts(SUBGROUPS), meanDeviationCharts(SUBGROUPS), betweenWithinCharts(SUBGROUPS)];
    expect(asTrial(design('mean-range'), row(SUBGROUPS)).panels.map(({ points }) => figures(points))).toEqual([figures(ranges.means), figures(ranges.spreads)]);
    expect(asTrial(design('mean-deviation'), row(SUBGROUPS)).panels.map(({ points }) => figures(points))).toEqual([figures(deviations.means), figures(deviations.spreads)]);
    expect(asTrial(design('between-within'), row(SUBGROUPS)).panels.map(({ points }) => figures(points))).toEqual([
      figures(three.means), figures(three.movingRanges), figures(three.deviations),
    ]);
  });

  test('of values, where stretches that begin anew have no moving range between them', () => {
    const { values, movingRanges } = individualsCharts(VALUES, { beginsAnew: [11, 31] });
    const { panels } = asTrial(design('individuals'), row(VALUES, [10, 30]));
    expect(panels.map(({ points }) => figures(points))).toEqual([figures(values), figures(movingRanges)]);
    expect(panels[1]?.points.map(({ from, to }) => [from, to])).not.toContainEqual([9, 10]);
    expect(panels[1]?.points).toHaveLength(37);
  });

  test('of counts, gaps and sums', () => {
    const counted = COUNTS.map(([count, of]) => ({ count, of }));
    const first = (of: ChartDesign, series: readonly SeriesPoint[]): number[][] => figures(asTrial(of, series).panels[0]?.points ?? []);
    expect(first(design('p'), counts(COUNTS))).toEqual(figures(pChart(counted).points));
    expect(first(design('np'), counts(COUNTS))).toEqual(figures(npChart(counted).points));
    expect(first(design('u'), counts(COUNTS))).toEqual(figures(uChart(counted).points));
    expect(first(design('adjusted-u'), counts(COUNTS))).toEqual(figures(adjustedUChart(counted).points));
    expect(first(design('c'), counts(COUNTS))).toEqual(figures(cChart(COUNTS.map(([count]) => count)).points));
    const gaps = COUNTS.map(([count], index) => count * 10 + index);
    expect(first(design('t', { rules: [] }), row(gaps))).toEqual(figures(tChart(gaps).points));
    const { mean, sigma } = individualsCharts(VALUES);
    const sums = cusumPoints(VALUES, { target: mean, k: 0.5 * sigma, h: 5 * sigma });
    const cusum = asTrial(design('cusum', { rules: [], k: 0.5, h: 5 }), row(VALUES));
    expect(cusum.panels.map(({ points }) => points.map(({ value }) => value))).toEqual([sums.map(({ high }) => high), sums.map(({ low }) => low)]);
  });

  test('of batches and residuals, whose points say of what they are made', () => {
    const batches = asTrial(design('batch-means', { batchSize: 4 }), row(VALUES, [10, 30])).panels[0]?.points ?? [];
    expect(batches.map(({ from, to }) => [from, to])).toEqual([[0, 3], [4, 7], [10, 13], [14, 17], [18, 21], [22, 25], [26, 29], [30, 33], [34, 37]]);
    expect(batches[0]?.value).toBeCloseTo((VALUES[0]! + VALUES[1]! + VALUES[2]! + VALUES[3]!) / 4, 10);
    const residuals = asTrial(design('residuals'), row(VALUES, [10, 30])).panels[0]?.points ?? [];
    expect(residuals).toHaveLength(37);
    expect(residuals.map(({ from, to }) => to - from)).toEqual(Array.from({ length: 37 }, () => 1));
    expect(residuals.some(({ to }) => to === 10 || to === 30)).toBe(false);
  });

  test('of several channels, by another limit in use than in the trial', () => {
    const rows = Array.from({ length: 30 }, () => [normal(), normal()]);
    const of = design('t-squared', { rules: [], alpha: 0.005 });
    const { phase1, phase2 } = t2IndividualLimits(30, { characteristics: 2, alpha: 0.005 });
    expect(new Set(asTrial(of, row(rows)).panels[0]?.points.map(({ upper }) => upper))).toEqual(new Set([phase1]));
    expect(new Set(charted(of, trialLimits(of, row(rows)), row(rows)).panels[0]?.points.map(({ upper }) => upper))).toEqual(new Set([phase2]));
  });
});

describe('limits', () => {
  test('survive being stored: a row against them is the same after a journey through JSON', () => {
    const rows: Readonly<Record<string, SeriesPoint[]>> = { subgroups: row(SUBGROUPS), values: row(VALUES), counts: counts(COUNTS), vectors: row(VALUES.map((value) => [value, normal()])) };
    const extras = { lambda: 0.2, width: 2.7, k: 0.5, h: 5, batchSize: 3, alpha: 0.005 };
    const of = { 'mean-range': 'subgroups', 'mean-deviation': 'subgroups', 'between-within': 'subgroups', p: 'counts', np: 'counts', 'adjusted-p': 'counts', c: 'counts', u: 'counts', 'adjusted-u': 'counts', 't-squared': 'vectors' } as Record<string, string>;
    for (const chart of CHART_KINDS) {
      const series = rows[of[chart] ?? 'values'] as SeriesPoint[];
      const limits = trialLimits(design(chart, extras), series);
      const again = JSON.parse(JSON.stringify(limits)) as typeof limits;
      expect(charted(design(chart, extras), again, series)).toEqual(charted(design(chart, extras), limits, series));
      expect(charted(design(chart, extras), limits, series).panels[0]?.points.length).toBeGreaterThan(0);
    }
  });

  test('come without the points that were removed', () => {
    const wild = [...VALUES.slice(0, 20), 400, ...VALUES.slice(20)];
    const limits = trialLimits(design('individuals'), row(wild), [{ index: 20, because: 'gauge lifted' }]);
    expect(limits).toMatchObject({ mean: individualsCharts(VALUES).mean });
    expect(charted(design('individuals'), limits, row(wild)).signals).toContainEqual({ panel: 0, rule: 'oneBeyond3Sigma', point: 20, points: [20] });
  });

  test('of residuals find the φ of the process, in stretches too', () => {
    const values = correlatedValues(normalNumbers(3), 0.7, 4_000);
    const begins = Array.from({ length: 39 }, (_, index) => 100 * (index + 1));
    const limits = trialLimits(design('residuals'), row(values, begins));
    expect(limits.chart === 'residuals' ? limits.phi : NaN).toBeCloseTo(0.7, 1);
    // √(1 − 0.49) of the values' own.
    expect(limits.chart === 'residuals' ? limits.sigma : NaN).toBeCloseTo(Math.sqrt(0.51), 1);
  });

  test('of residuals have the φ of a process with a mean, though the values run away from it', () => {
    const phiOf = (values: readonly number[]): number => {
      const limits = trialLimits(design('residuals'), row(values));
      return limits.chart === 'residuals' ? limits.phi : NaN;
    };
    const away = Array.from({ length: 40 }, (_, index) => 1.1 ** index);
    const pairs = away.length - 1;
    expect(phiOf(away)).toBe(1 - 1 / pairs);
    expect(phiOf(away.map((value, index) => (index % 2 === 0 ? value : -value)))).toBe(1 / pairs - 1);
  });

  test('of counts that vary more than chance explains come from within stretches', () => {
    const [begins, stepped] = [[10, 20], COUNTS.map(([count, of], index) => [count + 20 * Math.floor(index / 10), of] as const)];
    const counted = stepped.map(([count, of]) => ({ count, of }));
    for (const [chart, found] of [['adjusted-p', adjustedPChart], ['adjusted-u', adjustedUChart]] as const) {
      expect(trialLimits(design(chart), counts(stepped, begins))).toMatchObject({ sigmaZ: found(counted, { beginsAnew: [11, 21] }).sigmaZ });
      expect(trialLimits(design(chart), counts(stepped))).toMatchObject({ sigmaZ: found(counted).sigmaZ });
    }
  });

  test('of another chart are refused, and unequal lengths of a chart c', () => {
    expect(() => charted(design('p'), { chart: 'u', rate: 0.1 }, counts(COUNTS))).toThrow('limits of the chart u for a chart p');
    expect(() => trialLimits(design('c'), counts([[1, 100], [2, 50]]))).toThrow('equal opportunities');
    expect(() => trialLimits(design('long-term'), row([1, 1, 1]))).toThrow('no spread');
  });
});

describe('signals', () => {
  test('of rules do not reach across a beginning', () => {
    const limits = { chart: 'individuals', mean: 0, sigma: 1 } as const;
    const of = design('individuals', { rules: ['eightOnOneSide'] });
    const high = Array.from({ length: 8 }, () => 0.5);
    const places = (begins: readonly number[]): number[] => charted(of, limits, row(high, begins)).signals.filter(({ panel }) => panel === 0).map(({ point }) => point);
    expect([places([]), places([4])]).toEqual([[7], []]);
    // From coil to coil is what a chart between and within is about.
    const coils = row(high.map((value) => [value - 0.1, value + 0.1]), [1, 2, 3, 4, 5, 6, 7]);
    const between = charted(design('between-within', { rules: ['eightOnOneSide'] }), { chart: 'between-within', mean: 0, sigmaMeans: 1, sigmaWithin: 0.2 }, coils);
    expect(between.signals).toEqual([{ panel: 0, rule: 'eightOnOneSide', point: 7, points: [0, 1, 2, 3, 4, 5, 6, 7] }]);
  });

  test('of spreads are those beyond their limit', () => {
    const wide = row([[4.9, 5.1], [4.0, 6.0], [4.95, 5.05]]);
    expect(charted(design('mean-deviation'), { chart: 'mean-deviation', mean: 5, sigma: 0.1 }, wide).signals).toEqual([{ panel: 1, rule: 'beyondLimit', point: 1, points: [1] }]);
  });
});
