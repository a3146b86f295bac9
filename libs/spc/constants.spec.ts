import { describe, expect, test } from '@jest/globals';
import { c4, controlChartFactors } from '#libs/spc';

describe('factors of control charts', () => {
  test('c4 in closed form: √(2/π), √π/2, 2√(2/(3π)), and its series for many values', () => {
    expect(c4(2)).toBeCloseTo(Math.sqrt(2 / Math.PI), 15);
    expect(c4(3)).toBeCloseTo(Math.sqrt(Math.PI) / 2, 15);
    expect(c4(4)).toBeCloseTo(2 * Math.sqrt(2 / (3 * Math.PI)), 15);
    // c4 = 1 − 1/(4 n) − 7/(32 n²) − 19/(128 n³) + O(n⁻⁴).
    for (const n of [1000, 10_001]) expect(c4(n)).toBeCloseTo(1 - 1 / (4 * n) - 7 / (32 * n * n) - 19 / (128 * n ** 3), 11);
  });

  test('more values: a narrower mean, a steadier deviation', () => {
    const [few, many] = [controlChartFactors(5), controlChartFactors(40)];
    expect(many.A3).toBeLessThan(few.A3);
    expect(many.B4 - many.B3).toBeLessThan(few.B4 - few.B3);
    expect(many.c4).toBeGreaterThan(few.c4);
    expect(many.d3).toBeLessThan(few.d3);
  });

  test.each([1, 0, 2.5, NaN])('there are none for %p values', (n) => {
    expect(() => c4(n)).toThrow(new RangeError(`a subgroup has at least 2 values: ${n}`));
    expect(() => controlChartFactors(n)).toThrow(RangeError);
  });
});
