import { describe, expect, test } from '@jest/globals';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { andersonDarling, bestBoxCox, boxCox, boxCoxInverse, boxCoxLogLikelihood } from '#libs/spc';

const plotted = (n: number): number[] => Array.from({ length: n }, (_, index) => normalQuantile((index + 0.5) / n, 0, 1));

describe('andersonDarling', () => {
  test('values that lie as normal ones should are not doubted, whatever their unit and order', () => {
    const values = plotted(50);
    const { statistic, p } = andersonDarling(values);
    expect(p).toBeGreaterThan(0.99);
    expect(andersonDarling(values.map((value) => 1e6 - 3 * value).reverse()).statistic).toBeCloseTo(statistic, 7);
  });

  test('the branches of the probability meet where they change', () => {
    // A row of values bent more and more: the probability falls all the way.
    const found = Array.from({ length: 60 }, (_, index) => andersonDarling(plotted(40).map((value) => Math.exp((value * (index + 1)) / 40))));
    found.slice(1).forEach(({ adjusted, p }, index) => {
      expect(adjusted).toBeGreaterThan(found[index]!.adjusted);
      expect(p).toBeLessThan(found[index]!.p);
    });
    expect(found.at(-1)!.p).toBeLessThan(1e-4);
  });

  test('a value so far out that its probability is no double still gives a number', () => {
    const { statistic, p } = andersonDarling([...Array.from({ length: 4000 }, (_, index) => index % 2), 1e9]);
    expect(Number.isFinite(statistic)).toBe(true);
    expect(p).toBeLessThan(1e-20);
  });

  test('refuses what cannot be tested', () => {
    expect(() => andersonDarling([1, 2, 3, 4, 5, 6, 7])).toThrow(new RangeError('a test of normality takes at least 8 values: 7'));
    expect(() => andersonDarling(new Array<number>(8).fill(2))).toThrow(new RangeError('all values are equal: normality cannot be tested'));
  });
});

describe('boxCox', () => {
  test('equals its definition, and the logarithm at 0 without a jump', () => {
    expect(boxCox(9, 0.5)).toBeCloseTo(4, 13);
    expect(boxCox(2, -1)).toBeCloseTo(0.5, 14);
    expect(boxCox(5, 0)).toBe(Math.log(5));
    expect(boxCox(5, 1e-12)).toBeCloseTo(Math.log(5), 10);
  });

  test('goes back where it came from, and says where nothing comes from', () => {
    for (const lambda of [-2, -0.3, 0, 0.5, 1, 3]) expect(boxCoxInverse(boxCox(3.7, lambda), lambda)).toBeCloseTo(3.7, 12);
    expect(boxCoxInverse(-2, 0.5)).toBeNull();
  });

  test('values whose logarithms are normal are best as logarithms, and squares of normal ones as roots', () => {
    const logs = bestBoxCox(plotted(200).map((value) => Math.exp(value)));
    expect(logs.lambda).toBeCloseTo(0, 8);
    expect(logs.interval.from!).toBeCloseTo(-logs.interval.to!, 8);
    expect(Math.abs(bestBoxCox(plotted(200).map((value) => (10 + value) ** 2)).lambda - 0.5)).toBeLessThan(0.05);
  });

  test('the unit does not matter, and no power near by is more likely', () => {
    const values = [0.15, 0.09, 0.4, 0.1, 0.05, 0.3, 0.02, 0.2];
    const { lambda, logLikelihood, interval } = bestBoxCox(values);
    expect(boxCoxLogLikelihood(values, lambda)).toBeCloseTo(logLikelihood, 10);
    for (const step of [-0.3, -1e-3, 1e-3, 0.3]) expect(boxCoxLogLikelihood(values, lambda + step)).toBeLessThan(logLikelihood);
    expect(boxCoxLogLikelihood(values, interval.to!)).toBeCloseTo(logLikelihood - 3.841458820694124 / 2, 9);
    expect(bestBoxCox(values.map((value) => value * 1e30)).lambda).toBeCloseTo(lambda, 9);
  });

  test('values far from 0 leave the interval open', () => {
    const { interval } = bestBoxCox(plotted(20).map((value) => 1e6 + value / 10 + value * value / 1e9), 0.95);
    expect(interval).toEqual({ from: null, to: null });
  });

  test('refuses values that are not above 0 or do not differ', () => {
    expect(() => boxCox(0, 1)).toThrow(new RangeError('a power transformation is for values above 0: 0'));
    expect(() => bestBoxCox([1, -1])).toThrow(RangeError);
    expect(() => bestBoxCox([2, 2, 2])).toThrow(new RangeError('values that do not differ have no best power'));
    expect(() => bestBoxCox([1, 2], 1)).toThrow(RangeError);
  });
});
