import { describe, expect, test } from '@jest/globals';
import { bracketedRoot } from './bracketed-root.js';

describe('bracketedRoot', () => {
  test('finds where a function rises or falls through 0', () => {
    expect(bracketedRoot((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(bracketedRoot((x) => 2 - x * x, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
    expect(bracketedRoot((x) => x, 0, 2)).toBe(0);
    expect(bracketedRoot((x) => x - 2, 0, 2)).toBe(2);
  });

  test('ends in few steps, also where the function is steep, flat, or not finite at an end', () => {
    for (const [f, root] of [
      [(x: number) => Math.expm1(200 * (x - 0.3)), 0.3], [(x: number) => (x - 0.3) ** 9, 0.3], [(x: number) => Math.log(x), 1],
      [(x: number) => (x < 0.7 ? -1 : 1), 0.7],
    ] as const) {
      let count = 0;
      const found = bracketedRoot((x) => { count += 1; return f(x); }, 0, 2.1);
      expect(Math.abs(found - root)).toBeLessThan(root === 0.3 ? 1e-3 : 1e-14);
      expect(count).toBeLessThan(130);
    }
  });

  test('refuses a bracket without one', () => {
    expect(() => bracketedRoot((x) => x * x + 1, -1, 1)).toThrow(new RangeError('no change of sign between -1 and 1'));
  });
});
