import { describe, expect, test } from '@jest/globals';
import { conformanceProbability } from '#libs/conformity';

/** The standard normal distribution function by its series for the middle (Abramowitz and Stegun 26.2.10), from memory. */
function bySeries(z: number): number {
  let [term, sum] = [z, z];
  for (let n = 1; n < 200; n++) {
    term *= (-z * z) / (2 * n);
    sum += term / (2 * n + 1);
  }
  return 0.5 + sum / Math.sqrt(2 * Math.PI);
}

describe('conformanceProbability', () => {
  test('on a single limit it is one half', () => {
    expect(conformanceProbability(11, 0.1, null, 11)).toBe(0.5);
    expect(conformanceProbability(9, 0.1, 9, null)).toBe(0.5);
  });

  test('agrees with a series that is summed here', () => {
    for (const z of [-2.5, -1, -0.1, 0.3, 1.5, 3]) {
      expect(conformanceProbability(-z, 1, null, 0)).toBeCloseTo(bySeries(z), 13);
      expect(conformanceProbability(z, 1, 0, null)).toBeCloseTo(bySeries(z), 13);
    }
    expect(conformanceProbability(10, 0.5, 9, 11)).toBeCloseTo(bySeries(2) - bySeries(-2), 13);
  });

  test('is the same above and below, also far outside, where digits are easily lost', () => {
    const [above, below] = [conformanceProbability(20, 1, 9, 11), conformanceProbability(0, 1, 9, 11)];
    expect(above).toBe(below);
    expect(above).toBeGreaterThan(1e-20);
    expect(above).toBeLessThan(1e-18);
  });

  test('without any uncertainty it is certain, and limits belong to what conforms', () => {
    expect(conformanceProbability(9, 0, 9, 11)).toBe(1);
    expect(conformanceProbability(11, 0, 9, 11)).toBe(1);
    expect(conformanceProbability(11.000001, 0, 9, 11)).toBe(0);
    expect(conformanceProbability(5, 0.1, null, null)).toBe(1);
  });

  test('refuses what is no uncertainty, no number and no pair of limits', () => {
    expect(() => conformanceProbability(1, -0.1, 0, 2)).toThrow(new RangeError('standard uncertainty is below 0: -0.1'));
    expect(() => conformanceProbability(Number.NaN, 0.1, 0, 2)).toThrow(new RangeError('not a finite number: NaN'));
    expect(() => conformanceProbability(1, 0.1, 0, Infinity)).toThrow(RangeError);
    expect(() => conformanceProbability(1, 0.1, 2, 1)).toThrow(new RangeError('limits are reversed: min 2, max 1'));
  });
});
