import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import {
  betweenWithinCharts, controlChartFactors, individualsCharts, individualsPoints, meanDeviationCharts, meanRangeCharts, pointsBeyond, standardised,
  subgroupPoints,
} from '#libs/spc';

const GROUPS = [[5, 5.2, 4.9], [5.1, 5, 5.3], [4.8, 5, 5.1], [5.2, 4.9, 5]];

/** Whole hundredths, with at least one subgroup whose values differ. */
const groups = fc.array(fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 2, maxLength: 6 }), { minLength: 2, maxLength: 12 })
  .filter((all) => all.some((values) => new Set(values).size > 1));

const close = (found: readonly number[], expected: readonly number[]): void => {
  expect(found).toHaveLength(expected.length);
  found.forEach((one, index) => { expect(Math.abs(one - expected[index]!)).toBeLessThan(1e-9 * (1 + Math.abs(expected[index]!))); });
};

describe.each([['ranges', meanRangeCharts], ['deviations', meanDeviationCharts]])('charts of means and %s', (_name, charts) => {
  test('a shift moves the means and leaves the spreads; a scale scales both; the order within a subgroup is nothing', () => {
    fc.assert(fc.property(groups, fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: 1, max: 9 }), (all, shift, scale) => {
      const base = charts(all);
      const moved = charts(all.map((values) => values.map((value) => shift + scale * value).reverse()));
      close(moved.means.flatMap(({ lower, upper }) => [lower, upper]), base.means.flatMap(({ lower, upper }) => [shift + scale * lower, shift + scale * upper]));
      close(moved.spreads.flatMap(({ value, upper }) => [value, upper]), base.spreads.flatMap(({ value, upper }) => [scale * value, scale * upper]));
      close(standardised(moved.means), standardised(base.means));
    }));
  });

  test('what is left out does not count, is charted, and says why', () => {
    const wild = [...GROUPS, [9, 12, 10]];
    const { means, spreads, sigma, grandMean } = charts(wild, [{ point: 5, reason: 'set-up' }]);
    const without = charts(GROUPS);
    expect([sigma, grandMean]).toEqual([without.sigma, without.grandMean]);
    expect(means.map(({ leftOut }) => leftOut)).toEqual([null, null, null, null, 'set-up']);
    expect(pointsBeyond(means)).toEqual([5]);
    expect(pointsBeyond(spreads)).toEqual([5]);
  });

  test('what cannot be is refused', () => {
    expect(() => charts([[1, 2], [3]])).toThrow(new RangeError('a subgroup has at least 2 values: 1'));
    expect(() => charts([[1, 1], [2, 2]])).toThrow(new RangeError('the values within the subgroups show no spread to take limits from'));
    expect(() => charts([])).toThrow(new RangeError('no point is left to take limits from'));
    expect(() => charts([[1, NaN]])).toThrow(RangeError);
    expect(() => charts(GROUPS, [{ point: 5, reason: 'stop' }])).toThrow(new RangeError('there is no point 5 to leave out, of 4'));
    expect(() => charts(GROUPS, [{ point: 1, reason: ' ' }])).toThrow(new RangeError('point 1 is left out without a reason'));
    expect(() => charts(GROUPS, [{ point: 1, reason: 'a' }, { point: 1, reason: 'b' }])).toThrow(new RangeError('point 1 is left out twice'));
  });
});

describe('subgroups of unequal sizes', () => {
  test('each R/d2 counts by the inverse of its variance', () => {
    const [two, four] = [controlChartFactors(2), controlChartFactors(4)];
    const [w2, w4] = [(two.d2 / two.d3) ** 2, (four.d2 / four.d3) ** 2];
    const { sigma, spreads } = meanRangeCharts([[1, 3], [1, 2, 3, 7]]);
    expect(sigma).toBeCloseTo((w2 * 2 / two.d2 + w4 * 6 / four.d2) / (w2 + w4), 12);
    expect(spreads.map(({ centre }) => centre / sigma)).toEqual([expect.closeTo(two.d2, 12), expect.closeTo(four.d2, 12)]);
  });

  test('of one size the pooled deviation is the root of the mean variance', () => {
    const { meanDeviation } = meanDeviationCharts([[1, 3], [1, 5]], [], 'pooled');
    expect(meanDeviation).toBeCloseTo(Math.sqrt((2 + 8) / 2), 12);
  });
});

describe('individualsCharts', () => {
  const VALUES = [10, 12, 11, 30, 31, 29];

  test('no moving range reaches across a point where something else begins', () => {
    const { movingRanges, meanMovingRange } = individualsCharts(VALUES, { beginsAnew: [4] });
    expect(movingRanges.map(({ point, value }) => [point, value])).toEqual([[2, 2], [3, 1], [5, 1], [6, 2]]);
    expect(meanMovingRange).toBe(1.5);
  });

  test('a range with a left-out value in it does not count and says why', () => {
    const { movingRanges, mean, sigma } = individualsCharts(VALUES, { leftOut: [{ point: 4, reason: 'gauge being checked' }] });
    expect(movingRanges.map(({ leftOut }) => leftOut)).toEqual([null, null, 'gauge being checked', 'gauge being checked', null]);
    expect(mean).toBeCloseTo(93 / 5, 12);
    expect(sigma).toBeCloseTo((5 / 3) / (2 / Math.sqrt(Math.PI)), 12);
  });

  test('a span of three takes the range of three values', () => {
    const { movingRanges, sigma } = individualsCharts([1, 4, 2, 2, 9], { span: 3 });
    expect(movingRanges.map(({ point, value }) => [point, value])).toEqual([[3, 3], [4, 2], [5, 7]]);
    expect(sigma).toBeCloseTo(4 / (3 / Math.sqrt(Math.PI)), 12);
  });

  test('what cannot be is refused', () => {
    expect(() => individualsCharts([1])).toThrow(new RangeError('no moving range is left to take limits from'));
    expect(() => individualsCharts([2, 2, 2])).toThrow(new RangeError('the values, one after another, show no spread to take limits from'));
    expect(() => individualsCharts([1, 2], { span: 1 })).toThrow(RangeError);
    expect(() => individualsCharts([1, Infinity])).toThrow(RangeError);
    expect(() => individualsCharts([1, 2, NaN], { leftOut: [{ point: 3, reason: 'no reading' }] })).toThrow(new RangeError('not a finite value: NaN'));
  });
});

describe('points against limits that stand', () => {
  test('the same data give the same points, whatever their sizes', () => {
    const mixed = [...GROUPS, [5.05, 4.95]];
    for (const [spread, charts] of [['ranges', meanRangeCharts], ['deviations', meanDeviationCharts]] as const) {
      const { grandMean, sigma, means, spreads } = charts(mixed);
      expect(subgroupPoints(spread, mixed, { mean: grandMean, sigma })).toEqual({ means, spreads });
    }
    const { mean, sigma, values, movingRanges } = individualsCharts([3, 5, 4, 9, 2], { beginsAnew: [4] });
    const again = individualsPoints([3, 5, 4, 9, 2], { mean, sigma }, { beginsAnew: [4] });
    expect(again.values).toEqual(values);
    close(again.movingRanges.flatMap(({ value, upper }) => [value, upper]), movingRanges.flatMap(({ value, upper }) => [value, upper]));
  });

  test('new data do not move them', () => {
    const { means } = subgroupPoints('deviations', [[90, 91], [10, 10]], { mean: 10, sigma: 1 });
    expect(means.map(({ centre, upper }) => [centre, upper])).toEqual([[10, 10 + 3 / Math.sqrt(2)], [10, 10 + 3 / Math.sqrt(2)]]);
    expect(pointsBeyond(means)).toEqual([1]);
    expect(pointsBeyond(individualsPoints([13, 13.01], { mean: 10, sigma: 1 }).values)).toEqual([2]);
  });

  test('what cannot be is refused', () => {
    expect(() => subgroupPoints('ranges', [[1, 2]], { mean: 1, sigma: 0 })).toThrow(RangeError);
    expect(() => subgroupPoints('ranges', [[1]], { mean: 1, sigma: 1 })).toThrow(RangeError);
    expect(() => individualsPoints([1], { mean: 1, sigma: NaN })).toThrow(RangeError);
    expect(() => individualsPoints([NaN], { mean: 1, sigma: 1 })).toThrow(new RangeError('not a finite value: NaN'));
  });
});

describe('betweenWithinCharts', () => {
  test('means far apart beside their values: the charts of means alone cry wolf, these do not', () => {
    const centres = [50, 53, 49, 52, 50, 54, 51, 49, 53, 50];
    const coils = centres.map((centre) => [centre - 0.1, centre, centre + 0.1]);
    expect(pointsBeyond(meanDeviationCharts(coils).means).length).toBeGreaterThan(5);
    const charts = betweenWithinCharts(coils);
    expect(pointsBeyond(charts.means)).toEqual([]);
    const ofMeans = individualsCharts(centres).sigma;
    expect(charts.sigmaWithin).toBeCloseTo(0.1 / controlChartFactors(3).c4, 10);
    expect(charts.sigmaBetween).toBeCloseTo(Math.sqrt(ofMeans ** 2 - charts.sigmaWithin ** 2 / 3), 10);
    expect(charts.sigmaTotal ** 2).toBeCloseTo(charts.sigmaBetween ** 2 + charts.sigmaWithin ** 2, 10);
    expect(charts.betweenIsNegative).toBe(false);
  });

  test('means closer than their values explain give no spread between, and say so', () => {
    const { sigmaBetween, betweenIsNegative, sigmaTotal, sigmaWithin } = betweenWithinCharts([[0, 10], [1, 9.2], [0.5, 9.6]]);
    expect([sigmaBetween, betweenIsNegative]).toEqual([0, true]);
    expect(sigmaTotal).toBe(sigmaWithin);
  });
});
