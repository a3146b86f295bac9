import { describe, expect, test } from '@jest/globals';
import { percentile, summaryOf } from '#libs/spc';

describe('summaryOf', () => {
  test('n, mean, sample standard deviation and extremes', () => {
    // Deviations -3, -1, -1, -1, 0, 0, 2, 4 from 5: 32/7.
    expect(summaryOf([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({ n: 8, mean: 5, standardDeviation: Math.sqrt(32 / 7), min: 2, max: 9 });
  });

  test('one value has no spread that could be known, equal ones have none', () => {
    expect(summaryOf([5.02])).toEqual({ n: 1, mean: 5.02, standardDeviation: null, min: 5.02, max: 5.02 });
    expect(summaryOf([5.02, 5.02, 5.02]).standardDeviation).toBe(0);
  });

  test('a large common part takes nothing from the spread', () => {
    expect(summaryOf([1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16])).toMatchObject({ mean: 1e9 + 10, standardDeviation: Math.sqrt(30) });
  });

  test('a mean that no double can be takes nothing from it either', () => {
    // The mean 1e16 + 1 rounds to 1e16: the differences from it are 0 and 2 and not -1 and 1.
    expect(summaryOf([1e16, 1e16 + 2]).standardDeviation).toBeCloseTo(Math.SQRT2, 14);
  });

  test('more values than a call takes arguments', () => {
    const many = Array.from({ length: 300_000 }, (_, index) => index % 2);
    expect(summaryOf(many)).toMatchObject({ n: 300_000, min: 0, max: 1 });
    expect(summaryOf(many).mean).toBeCloseTo(0.5, 12);
  });

  test('nothing, and what is no number, is refused', () => {
    expect(() => summaryOf([])).toThrow(new RangeError('there are no values to summarise'));
    expect(() => summaryOf([1, NaN])).toThrow(new RangeError('not a finite value: NaN'));
    expect(() => summaryOf([Infinity])).toThrow(RangeError);
  });
});

describe('percentile', () => {
  test('quartiles by the rank p(n + 1), in whatever order the values come', () => {
    // Ranks 2, 4 and 6 of seven values; 1.5 and 4.5 of five.
    expect([0.25, 0.5, 0.75].map((p) => percentile([7, 1, 4, 2, 6, 3, 5], p))).toEqual([2, 4, 6]);
    expect([0.25, 0.75].map((p) => percentile([10, 20, 30, 40, 50], p))).toEqual([15, 45]);
  });

  test('ranks beyond the values give the first or the last of them', () => {
    // 0.1 × 9 = 0.9 lies before the first rank; 0.125 × 8 = 1 is the first.
    const values = [1, 2, 3, 4, 5, 6, 7];
    expect([0, 0.1, 0.125, 0.875, 0.9, 1].map((p) => percentile(values, p))).toEqual([1, 1, 1, 7, 7, 7]);
    expect(percentile(values, 0.1875)).toBe(1.5);
    expect([0, 0.5, 1].map((p) => percentile([3], p))).toEqual([3, 3, 3]);
  });

  test('no values, no share and no number are refused', () => {
    expect(() => percentile([], 0.5)).toThrow(new RangeError('there are no values to take a percentile of'));
    expect(() => percentile([1], 1.01)).toThrow(new RangeError('the share is not within 0 and 1: 1.01'));
    expect(() => percentile([1], -0.01)).toThrow(RangeError);
    expect(() => percentile([1], NaN)).toThrow(RangeError);
    expect(() => percentile([1, NaN], 0.5)).toThrow(new RangeError('not a finite value: NaN'));
  });

  test('leaves the list it is given as it was', () => {
    const values = [3, 1, 2];
    percentile(values, 0.5);
    expect(values).toEqual([3, 1, 2]);
  });
});
