import { describe, expect, test } from '@jest/globals';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { oneSidedToleranceFactor, oneSidedToleranceFactorByNormal, summaryOf, twoSidedToleranceFactor } from '#libs/spc';
import { Draws } from './line-draws.reference.js';

const METHODS = ['exact', 'howe', 'wald-wolfowitz'] as const;

describe('tolerance factors', () => {
  test('approach the normal quantile with many values, and rise with content and confidence', () => {
    expect(Math.abs(oneSidedToleranceFactor(1_000_000, 0.95, 0.5) - normalQuantile(0.95, 0, 1))).toBeLessThan(1e-5);
    for (const method of METHODS) {
      expect(Math.abs(twoSidedToleranceFactor(1_000_000, 0.95, 0.95, method) - normalQuantile(0.975, 0, 1))).toBeLessThan(0.005);
      expect(twoSidedToleranceFactor(10, 0.99, 0.95, method)).toBeGreaterThan(twoSidedToleranceFactor(10, 0.95, 0.95, method));
      expect(twoSidedToleranceFactor(10, 0.95, 0.99, method)).toBeGreaterThan(twoSidedToleranceFactor(10, 0.95, 0.95, method));
      expect(twoSidedToleranceFactor(20, 0.95, 0.95, method)).toBeLessThan(twoSidedToleranceFactor(10, 0.95, 0.95, method));
    }
  });

  test('half content at half confidence needs no room to one side, and less of both leaves some over', () => {
    expect(oneSidedToleranceFactor(10, 0.5, 0.5)).toBeCloseTo(0, 12);
    expect(oneSidedToleranceFactor(10, 0.1, 0.1)).toBeLessThan(-1);
    // The limit above a share p with confidence c is that below 1 - p with 1 - c.
    expect(oneSidedToleranceFactor(7, 0.1, 0.05)).toBeCloseTo(-oneSidedToleranceFactor(7, 0.9, 0.95), 10);
  });

  test('hold their content as often as they say, in simulated samples with a fixed seed', () => {
    const draws = new Draws(4711);
    const [n, rounds, confidence] = [8, 20_000, 0.9];
    const [one, two] = [oneSidedToleranceFactor(n, 0.9, confidence), twoSidedToleranceFactor(n, 0.9, confidence, 'exact')];
    let [oneHeld, twoHeld] = [0, 0];
    for (let round = 0; round < rounds; round++) {
      const { mean, standardDeviation } = summaryOf(Array.from({ length: n }, () => normalQuantile(Math.max(draws.fraction(), 1e-10), 0, 1)));
      if (mean + one * standardDeviation! >= normalQuantile(0.9, 0, 1)) oneHeld++;
      if (share(mean - two * standardDeviation!, mean + two * standardDeviation!) >= 0.9) twoHeld++;
    }
    const bound = 4 * Math.sqrt(confidence * (1 - confidence) / rounds);
    expect(Math.abs(oneHeld / rounds - confidence)).toBeLessThan(bound);
    expect(Math.abs(twoHeld / rounds - confidence)).toBeLessThan(bound);
  });

  test('refuse what has no factor', () => {
    expect(() => oneSidedToleranceFactor(1, 0.9, 0.9)).toThrow(new RangeError('n is not a whole number of at least 2: 1'));
    expect(() => twoSidedToleranceFactor(5, 1, 0.9, 'exact')).toThrow(new RangeError('the content is not between 0 and 1: 1'));
    expect(() => twoSidedToleranceFactor(5, 0.9, 0, 'howe')).toThrow(new RangeError('the confidence is not between 0 and 1: 0'));
    expect(() => oneSidedToleranceFactorByNormal(2, 0.9, 0.99)).toThrow(RangeError);
    expect(() => twoSidedToleranceFactor(2, 0.9, 1 - 1e-12, 'exact')).toThrow(new RangeError('the tolerance factor is out of reach: above a million'));
  });
});

/** The share of a standard normal distribution between two places, by Simpson's rule: another way than the library's. */
function share(from: number, to: number): number {
  const [steps, start, end] = [60, Math.max(from, -9), Math.min(to, 9)];
  const h = (end - start) / steps;
  let sum = 0;
  for (let index = 0; index <= steps; index++) {
    const x = start + index * h;
    sum += (index === 0 || index === steps ? 1 : index % 2 === 1 ? 4 : 2) * Math.exp((-x * x) / 2);
  }
  return (sum * h) / 3 / Math.sqrt(2 * Math.PI);
}
