import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { meanAndCovariance, principalComponents } from '#libs/spc';

const rows = fc.integer({ min: 1, max: 6 }).chain((characteristics) =>
  fc.array(fc.array(fc.integer({ min: -100, max: 100 }), { minLength: characteristics, maxLength: characteristics }), { minLength: 2, maxLength: 12 }));

describe('principalComponents', () => {
  test('two characteristics in closed form', () => {
    const [first, second] = principalComponents([[1, 0.6], [0.6, 1]]);
    expect(first).toEqual({ variance: expect.closeTo(1.6, 14), share: expect.closeTo(0.8, 14), weights: [expect.closeTo(Math.SQRT1_2, 14), expect.closeTo(Math.SQRT1_2, 14)] });
    expect(second!.variance).toBeCloseTo(0.4, 14);
  });

  test('directions are at right angles, the matrix only stretches them, and their variances sum to all of it', () => {
    fc.assert(fc.property(rows, (given) => {
      const { covariance } = meanAndCovariance(given);
      const total = covariance.reduce((sum, row, index) => sum + row[index]!, 0);
      fc.pre(total > 0);
      const found = principalComponents(covariance);
      expect(found.reduce((sum, { variance }) => sum + variance, 0) / total).toBeCloseTo(1, 12);
      found.forEach(({ variance, share, weights }, index) => {
        expect(share).toBe(variance / total);
        expect(variance).toBeGreaterThan(-1e-12 * total);
        expect(variance).toBeLessThanOrEqual(found[index - 1]?.variance ?? Infinity);
        covariance.forEach((row, place) => { expect(Math.abs(product(row, weights) - variance * weights[place]!)).toBeLessThan(1e-12 * total); });
        found.forEach((other, place) => { expect(product(weights, other.weights)).toBeCloseTo(Number(index === place), 12); });
      });
    }));
  });

  test('what is no matrix of variances is refused', () => {
    expect(() => principalComponents([[1, 2]])).toThrow(new RangeError('not a square matrix of finite values'));
    expect(() => principalComponents([[NaN]])).toThrow(RangeError);
    expect(() => principalComponents([[1, 0.5], [0.4, 1]])).toThrow(new RangeError('the matrix is not symmetric'));
    expect(() => principalComponents([[0, 0], [0, 0]])).toThrow(new RangeError('what does not vary has no principal components'));
    expect(() => principalComponents([])).toThrow(RangeError);
  });
});

const product = (one: readonly number[], other: readonly number[]): number => one.reduce((sum, value, index) => sum + value * other[index]!, 0);
