import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { CHART_FAMILIES, CHART_KINDS, type Charted, charted, type ChartDesign, type ChartKind, type PanelPoint, type PanelShows, type SeriesPoint, trialLimits } from '#libs/charting';
import { normalNumbers } from '../fixtures/normal-numbers.js';
import { seedFromEnvironment } from '../setup/seed.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 40 };
const seeds = fc.integer({ min: 1, max: 1_000_000 });
/** In standard deviations; of values further away a double loses more digits than are compared. */
const shifts = fc.constantFrom(-1000, -7, 0, 0.3, 5000);
const scales = fc.constantFrom(0.001, 0.5, 3, 2000);

const POINTS = 36;
const designOf = (chart: ChartKind): ChartDesign => ({ chart, rules: ['oneBeyond3Sigma', 'eightOnOneSide', 'sixSteadily'], lambda: 0.2, width: 2.5, k: 0.5, h: 3, batchSize: 3, alpha: 0.05 });
const chartsOf = (...families: readonly (typeof CHART_FAMILIES)[ChartKind][]): ChartKind[] => CHART_KINDS.filter((chart) => families.includes(CHART_FAMILIES[chart]));

/** A row whose second half is higher, so that there is something to signal; a stretch begins in it. */
function rowOf(seed: number, readings: number, of: (normal: () => number, index: number) => Partial<SeriesPoint>): SeriesPoint[] {
  const normal = normalNumbers(seed);
  return Array.from({ length: POINTS }, (_, index) => {
    const level = index < POINTS / 2 ? 0 : 1;
    return { values: Array.from({ length: readings }, () => level + normal()), of: null, beginsAnew: index === 10, ...of(normal, index) };
  });
}
const measured = (seed: number, readings: number): SeriesPoint[] => rowOf(seed, readings, () => ({}));
const measuredIn = (readings: number) => (seed: number): SeriesPoint[] => measured(seed, readings);
const countedRow = (seed: number): SeriesPoint[] => rowOf(seed, 1, (normal, index) => ({ values: [Math.max(0, Math.round(20 + (index % 7) + 4 * normal()))], of: 400 }));
const gapRow = (seed: number): SeriesPoint[] => rowOf(seed, 1, (normal) => ({ values: [1 + 500 * normal() ** 2] }));

const asTrial = (chart: ChartKind, series: readonly SeriesPoint[]): Charted => charted(designOf(chart), trialLimits(designOf(chart), series), series, 'trial');
const withValues = (series: readonly SeriesPoint[], change: (value: number) => number): SeriesPoint[] => series.map((point) => ({ ...point, values: point.values.map(change) }));

type Figures = Pick<PanelPoint, 'value' | 'centre' | 'lower' | 'upper'>;
const figuresOf = (points: readonly Figures[]): number[] => points.flatMap(({ value, centre, lower, upper }) => [value, centre, lower ?? NaN, upper ?? NaN]);
const changed = ({ value, centre, lower, upper }: Figures, change: (figure: number) => number): Figures =>
  ({ value: change(value), centre: change(centre), lower: lower === null ? null : change(lower), upper: upper === null ? null : change(upper) });

function expectClose(found: readonly Figures[], expected: readonly Figures[]): void {
  const [all, others] = [figuresOf(found), figuresOf(expected)];
  const size = Math.max(...others.filter(Number.isFinite).map(Math.abs));
  expect(all).toHaveLength(others.length);
  expect(all.findIndex((one, index) => !(Object.is(one, others[index]) || Math.abs(one - others[index]!) <= 1e-9 * size))).toBe(-1);
}

/** What a panel shows of readings that became scale × (shift + reading). */
const PLACES: readonly PanelShows[] = ['means', 'values', 'batch means', 'weighted averages'];
const becomes = (shows: PanelShows, shift: number, scale: number) => (figure: number): number => {
  if (shows === 'T²') return figure;
  return PLACES.includes(shows) ? scale * (shift + figure) : scale * figure;
};

test('every chart has its properties here, and signals now and then on rows as these', () => {
  expect(chartsOf('subgroups', 'values', 'vectors', 'shares', 'rates', 'gaps')).toEqual(CHART_KINDS);
  const rows = { subgroups: measuredIn(3), vectors: measuredIn(3), values: measuredIn(1), shares: countedRow, rates: countedRow, gaps: gapRow };
  const silent = CHART_KINDS.filter((chart) => !Array.from({ length: 30 }, (_, seed) => asTrial(chart, rows[CHART_FAMILIES[chart]](seed))).some(({ signals }) => signals.length > 0));
  expect(silent).toEqual([]);
});

describe.each(chartsOf('subgroups', 'values', 'vectors'))('%s', (chart) => {
  const readings = CHART_FAMILIES[chart] === 'values' ? 1 : 3;

  test('a shift moves places and leaves spreads, a scale scales both, and what signals stays', () => {
    fc.assert(fc.property(seeds, shifts, scales, (seed, shift, scale) => {
      const series = measured(seed, readings);
      const [before, after] = [asTrial(chart, series), asTrial(chart, withValues(series, (value) => scale * (shift + value)))];
      before.panels.forEach(({ shows, points }, panel) => {
        expectClose(after.panels[panel]!.points, points.map((point) => changed(point, becomes(shows, shift, scale))));
      });
      expect(after.signals).toEqual(before.signals);
    }), PARAMETERS);
  });
});

test.each(chartsOf('subgroups', 'values'))('%s: the order of readings within a point does not matter', (chart) => {
  fc.assert(fc.property(seeds, fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }), (seed, order) => {
    const series = measured(seed, 4);
    const [before, after] = [asTrial(chart, series), asTrial(chart, series.map((point) => ({ ...point, values: order.map((place) => point.values[place]!) })))];
    before.panels.forEach(({ points }, panel) => { expectClose(after.panels[panel]!.points, points); });
    expect(after.signals).toEqual(before.signals);
  }), PARAMETERS);
});

describe.each(chartsOf('shares', 'rates', 'gaps'))('%s', (chart) => {
  const rowFrom = CHART_FAMILIES[chart] === 'gaps' ? gapRow : countedRow;

  test('points in the other order have the same limits, each its own', () => {
    fc.assert(fc.property(seeds, (seed) => {
      const series = rowFrom(seed).map((point) => ({ ...point, beginsAnew: false }));
      const [before, after] = [asTrial(chart, series), asTrial(chart, series.toReversed())];
      expectClose(after.panels[0]!.points.toReversed(), before.panels[0]!.points);
    }), PARAMETERS);
  });
});

test.each(chartsOf('shares'))('%s of good items is the mirror of that of faulty ones', (chart) => {
  fc.assert(fc.property(seeds, (seed) => {
    const series = countedRow(seed);
    const [faulty, good] = [asTrial(chart, series), asTrial(chart, series.map((point) => ({ ...point, values: [point.of! - point.values[0]!] })))];
    const all = chart === 'np' ? 400 : 1;
    expectClose(good.panels[0]!.points, faulty.panels[0]!.points.map(({ value, centre, lower, upper }) => (
      { value: all - value, centre: all - centre, lower: all - upper!, upper: all - lower! })));
    expect(good.signals).toEqual(faulty.signals);
  }), PARAMETERS);
});

test.each(chartsOf('rates'))('%s per another length is the same chart', (chart) => {
  fc.assert(fc.property(seeds, scales, (seed, scale) => {
    const series = countedRow(seed);
    const [before, after] = [asTrial(chart, series), asTrial(chart, series.map((point) => ({ ...point, of: point.of! * scale })))];
    expectClose(after.panels[0]!.points, before.panels[0]!.points.map((point) => changed(point, (figure) => (chart === 'c' ? figure : figure / scale))));
    expect(after.signals).toEqual(before.signals);
  }), PARAMETERS);
});

test('t in another unit is the same chart', () => {
  fc.assert(fc.property(seeds, scales, (seed, scale) => {
    const series = gapRow(seed);
    const [before, after] = [asTrial('t', series), asTrial('t', withValues(series, (value) => scale * value))];
    expectClose(after.panels[0]!.points, before.panels[0]!.points.map((point) => changed(point, (figure) => scale * figure)));
    expect(after.signals).toEqual(before.signals);
  }), PARAMETERS);
});
