import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { autocorrelatedRunLength } from '#libs/spc';

describe('autocorrelatedRunLength', () => {
  test('of independent values it is one over the chance of a value beyond', () => {
    for (const [multiple, shift] of [[3, 0], [3, 1], [2, -0.5], [1, 4]]) {
      const chance = normalCdf(-multiple! - shift!, 0, 1) + normalCdf(-multiple! + shift!, 0, 1);
      expect(Math.abs(autocorrelatedRunLength(0, { multiple: multiple!, shift: shift! }) * chance - 1)).toBeLessThan(1e-10);
    }
  });

  test('values that follow each other give longer runs with true limits, and far shorter ones with those by moving ranges', () => {
    const white = autocorrelatedRunLength(0, { multiple: 3, shift: 0 });
    expect(autocorrelatedRunLength(0.7, { multiple: 3, shift: 0 })).toBeGreaterThan(white);
    expect(autocorrelatedRunLength(0.7, { multiple: 3 * Math.sqrt(0.3), shift: 0 })).toBeLessThan(white / 10);
  });

  test('the side of a shift does not matter, and fewer nodes give the same', () => {
    const limits = { multiple: 3, shift: 1 };
    const found = autocorrelatedRunLength(0.6, limits);
    expect(autocorrelatedRunLength(0.6, { ...limits, shift: -1 }) / found).toBeCloseTo(1, 11);
    expect(autocorrelatedRunLength(0.6, limits, 40) / found).toBeCloseTo(1, 10);
    expect(autocorrelatedRunLength(0.95, limits, 60) / autocorrelatedRunLength(0.95, limits)).toBeCloseTo(1, 9);
  });

  test('refuses what it cannot tell', () => {
    expect(() => autocorrelatedRunLength(0.96, { multiple: 3, shift: 0 })).toThrow(new RangeError('the autocorrelation is not within -0.95 and 0.95: 0.96'));
    expect(() => autocorrelatedRunLength(0, { multiple: 0, shift: 0 })).toThrow(RangeError);
    expect(() => autocorrelatedRunLength(0, { multiple: 3, shift: 11 })).toThrow(RangeError);
  });
});
