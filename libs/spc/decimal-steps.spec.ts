import { describe, expect, test } from '@jest/globals';
import { stepCounts } from './decimal-steps.js';

describe('stepCounts', () => {
  test('counts the step of the last decimal of all', () => {
    expect(stepCounts([4.97, 5, -0.1])).toEqual({ counts: [497, 500, -10], perUnit: 100 });
    expect(stepCounts([3, -2, 0])).toEqual({ counts: [3, -2, 0], perUnit: 1 });
    expect(stepCounts([10000000.1, 10000000.3])).toEqual({ counts: [100000001, 100000003], perUnit: 10 });
    expect(stepCounts([])).toEqual({ counts: [], perUnit: 1 });
  });

  test.each([
    ['a computed value', [5.02, 0.1 + 0.2]], ['a third', [1, 1 / 3]], ['ten digits after the point', [0.0123456789]], ['a single as a double', [Math.fround(4.7)]],
    ['too large to be counted', [2 ** 60, 1]], ['too large beside a fine one', [9e12 + 1, 0.0001]],
  ])('%s leaves the values as they are', (_what, values) => {
    expect(stepCounts(values)).toEqual({ counts: values, perUnit: 1 });
  });

  test('every count stands for the very double it was taken from', () => {
    for (let index = 0; index < 5_000; index += 1) {
      const decimals = index % 10;
      const text = (((index * 7_919) % 100_003) * 1.000_003 - 50_000).toFixed(decimals);
      const { counts, perUnit } = stepCounts([Number(text), 5.25]);
      expect((counts[0] ?? NaN) / perUnit).toBe(Number(text));
      expect(perUnit).toBeLessThanOrEqual(10 ** Math.max(decimals, 2));
    }
  });
});
