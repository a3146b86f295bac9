import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { solved } from './linear-system.js';

describe('solved', () => {
  test('what it finds meets the equations', () => {
    const systems = fc.integer({ min: 1, max: 8 }).chain((n) => fc.tuple(
      fc.array(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: n, maxLength: n }), { minLength: n, maxLength: n }),
      fc.array(fc.integer({ min: -9, max: 9 }), { minLength: n, maxLength: n })));
    fc.assert(fc.property(systems, ([offsets, solution]) => {
      // A heavy diagonal, turned by one row, so that there is one solution and the pivots are not where one stands.
      const turned = offsets.map((row, index) => row.map((value, column) => value + (column === (index + 1) % row.length ? 100 : 0)));
      const right = turned.map((row) => row.reduce((sum, value, column) => sum + value * solution[column]!, 0));
      const found = solved(turned.map((row) => Float64Array.from(row)), Float64Array.from(right));
      solution.forEach((value, index) => { expect(found[index]).toBeCloseTo(value, 10); });
    }));
  });

  test('equations that do not determine a solution are refused', () => {
    expect(() => solved([Float64Array.of(1, 2), Float64Array.of(2, 4)], Float64Array.of(1, 2)))
      .toThrow(new RangeError('the equations do not determine a solution'));
  });
});
