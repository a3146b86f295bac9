import { describe, expect, test } from '@jest/globals';
import { minimumElongation5lPercent, minimumElongationPercent, minimumElongationUscPercent } from '#libs/strip';

describe('minimum elongation', () => {
  test('rises with the fifth root of the section and falls with tensile strength', () => {
    expect(minimumElongationPercent(320, 500) / minimumElongationPercent(10, 500)).toBeCloseTo(2, 12);
    expect(minimumElongationPercent(100, 500) / minimumElongationPercent(100, 1000)).toBeCloseTo(2 ** 0.9, 12);
    // 1940 · 130^0.2 / 535^0.9 by logarithms: 7.57044 + 0.97351 − 5.65404 = 2.88991.
    expect(minimumElongationPercent(130, 535)).toBeCloseTo(Math.exp(2.88991), 3);
  });

  test('sections over the cap count as the cap', () => {
    expect(minimumElongationPercent(485.1, 500)).toBe(minimumElongationPercent(485, 500));
    expect(minimumElongationPercent(484.9, 500)).toBeLessThan(minimumElongationPercent(485, 500));
    expect(minimumElongationUscPercent(2, 75_000)).toBe(minimumElongationUscPercent(0.75, 75_000));
    expect(minimumElongationUscPercent(0.74, 75_000)).toBeLessThan(minimumElongationUscPercent(0.75, 75_000));
  });

  test('API 5L rounds to whole percent', () => {
    expect(minimumElongation5lPercent(130, 535)).toBe(18);
    expect(minimumElongationPercent(130, 535)).toBeCloseTo(17.992, 3);
    expect(minimumElongation5lPercent(485, 435)).toBe(28);
    expect(minimumElongationPercent(485, 435)).toBeCloseTo(28.2, 1);
  });

  test.each([0, -1, Number.NaN, Infinity])('%p is no section and no strength', (value) => {
    expect(() => minimumElongationPercent(value, 500)).toThrow(RangeError);
    expect(() => minimumElongation5lPercent(100, value)).toThrow(RangeError);
    expect(() => minimumElongationUscPercent(value, 70_000)).toThrow(RangeError);
    expect(() => minimumElongationUscPercent(0.1, value)).toThrow(RangeError);
  });
});
