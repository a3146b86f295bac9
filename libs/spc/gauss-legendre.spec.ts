import { describe, expect, test } from '@jest/globals';
import { gaussLegendre } from './gauss-legendre.js';

const integral = (count: number, from: number, to: number, of: (x: number) => number): number =>
  gaussLegendre(count, from, to).reduce((sum, { at, weight }) => sum + weight * of(at), 0);

describe('gaussLegendre', () => {
  test.each([1, 2, 3, 7, 40])('%i nodes: exact up to the degree 2 count − 1, and not beyond', (count) => {
    for (const power of [0, 1, count, 2 * count - 1]) {
      expect(integral(count, 0, 1, (x) => x ** power)).toBeCloseTo(1 / (power + 1), 13);
    }
    // On −1…1 the rule misses the leading term of the next degree; for 40 nodes what it misses is below a rounding.
    if (count < 8) expect(Math.abs(integral(count, -1, 1, (x) => x ** (2 * count)) - 2 / (2 * count + 1))).toBeGreaterThan(1e-6);
  });

  test('the nodes rise from one end to the other, and stay inside', () => {
    const nodes = gaussLegendre(30, 2, 5).map(({ at }) => at);
    expect(nodes).toEqual([...nodes].sort((one, other) => one - other));
    expect(nodes[0]).toBeGreaterThan(2);
    expect(nodes.at(-1)).toBeLessThan(5);
    expect(nodes[0]! + nodes.at(-1)!).toBeCloseTo(7, 13);
  });
});
