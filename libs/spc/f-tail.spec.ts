import { describe, expect, test } from '@jest/globals';
import { fTail } from './f-tail.js';

/**
 * P(F ≥ f) for an even number of degrees in the numerator: the binomial sum that the incomplete beta function ends in,
 * y^(d2/2) Σ (d2/2)(d2/2 + 1)…(d2/2 + k − 1)/k! (1 − y)^k over k < d1/2, with y = d2/(d2 + d1 f)
 * (Abramowitz and Stegun 26.6.4, from memory).
 */
function bySum(f: number, d1: number, d2: number): number {
  const y = d2 / (d2 + d1 * f);
  let [term, sum] = [1, 0];
  for (let k = 0; k < d1 / 2; k++) {
    sum += term;
    term *= ((d2 / 2 + k) / (k + 1)) * (1 - y);
  }
  return y ** (d2 / 2) * sum;
}

describe('fTail', () => {
  test.each([[2, 18], [4, 7], [18, 60], [2, 1], [40, 250], [198, 400]])('agrees with a finite sum for %i and %i degrees', (d1, d2) => {
    for (const f of [0.01, 0.4337, 1, 1.7, 3, 12]) {
      expect(Math.abs(fTail(f, d1, d2) / bySum(f, d1, d2) - 1)).toBeLessThan(1e-11);
    }
  });

  test('a small probability keeps its digits', () => {
    expect(Math.abs(fTail(1000, 2, 20) / 101 ** -10 - 1)).toBeLessThan(1e-12);
  });

  test('equal degrees are as likely above 1 as below', () => {
    for (const degrees of [1, 2, 9, 60]) expect(fTail(1, degrees, degrees)).toBeCloseTo(0.5, 13);
  });

  test('from 0 on it is certain, and nothing lies beyond every number', () => {
    expect(fTail(0, 3, 5)).toBe(1);
    expect(fTail(Infinity, 3, 5)).toBe(0);
  });

  test('refuses what is no ratio of variances and no number of degrees', () => {
    expect(() => fTail(-0.1, 2, 3)).toThrow(new RangeError('not a ratio of variances: -0.1'));
    expect(() => fTail(NaN, 2, 3)).toThrow(RangeError);
    expect(() => fTail(1, 0, 3)).toThrow(new RangeError('not degrees of freedom: 0'));
    expect(() => fTail(1, 2, 1.5)).toThrow(new RangeError('not degrees of freedom: 1.5'));
  });
});
