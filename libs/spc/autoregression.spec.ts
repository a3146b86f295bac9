import { describe, expect, test } from '@jest/globals';
import { autoregression, lagRegression, residualsOf } from '#libs/spc';

describe('autoregression', () => {
  test('no other phi and mean near by is more likely', () => {
    const values = [3.1, 2.7, 3.4, 3.9, 3.6, 2.9, 2.2, 2.6, 3.0, 3.3, 3.8, 3.2];
    const { phi, mean, logLikelihood } = autoregression(values);
    expect(likelihood(values, phi, mean)).toBeCloseTo(logLikelihood, 12);
    for (const [a, b] of [[1e-4, 0], [-1e-4, 0], [0, 1e-4], [0, -1e-4], [0.3, 0.2], [-0.5, 0]]) {
      expect(likelihood(values, phi + a!, mean + b!)).toBeLessThan(logLikelihood);
    }
  });

  test('moves and stretches with the values', () => {
    const values = [1, 4, 2, 5, 5, 7, 3, 1, 2];
    const [one, other] = [autoregression(values), autoregression(values.map((value) => 1000 - 10 * value))];
    expect(other.phi).toBeCloseTo(one.phi, 10);
    expect(other.mean).toBeCloseTo(1000 - 10 * one.mean, 8);
    expect(other.residualVariance).toBeCloseTo(100 * one.residualVariance, 8);
    expect(other.residuals[3]).toBeCloseTo(-10 * one.residuals[3]!, 8);
  });

  test('a straight line is fitted too, with a phi next to 1', () => {
    expect(autoregression(Array.from({ length: 200 }, (_, index) => index)).phi).toBeGreaterThan(0.98);
  });

  test('refuses equal values and fewer than three', () => {
    expect(() => autoregression([1, 1, 1])).toThrow(new RangeError('all values are equal: an autoregression does not exist'));
    expect(() => autoregression([1, 2])).toThrow(new RangeError('an autoregression is fitted to at least 3 values: 2'));
    expect(() => lagRegression([1, 1, 1, 2])).toThrow(RangeError);
    expect(() => lagRegression([1, 2, 3])).toThrow(new RangeError('a regression on the value before takes at least 4 values: 3'));
  });
});

test('residuals are what is left of each value but the first', () => {
  expect(residualsOf([10, 12, 11], 0.5, 10)).toEqual([2, 0]);
});

/** By the definition, value by value. */
function likelihood(values: readonly number[], phi: number, mean: number): number {
  const n = values.length;
  const squares = residualsOf(values, phi, mean).reduce((sum, e) => sum + e * e, (1 - phi * phi) * (values[0]! - mean) ** 2);
  return (-n / 2) * (Math.log((2 * Math.PI * squares) / n) + 1) + Math.log(1 - phi * phi) / 2;
}
