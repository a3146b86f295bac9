import { describe, expect, test } from '@jest/globals';
import { camberLimit, categoryOfYield, lengthTolerancePlusMm, squarenessLimitMm, uncroppedEndLengthM } from '#libs/strip';

describe('rules of EN 10051', () => {
  test('a category ends at its own limit, and there is none above 900 MPa', () => {
    expect([0.1, 300, 300.1, 360, 360.1, 420, 420.1, 900, 900.1].map(categoryOfYield)).toEqual(['A', 'A', 'B', 'B', 'C', 'C', 'D', 'D', null]);
  });

  test('camber: a share of a short length, a fixed amount on 5 m, and nothing said of long narrow strip', () => {
    expect(camberLimit(4999, 300, 'trimmed')).toEqual({ maxMm: 24.995, baseMm: 4999 });
    expect(camberLimit(5000, 600, 'mill')).toEqual({ maxMm: 20, baseMm: 5000 });
    expect(camberLimit(60_000, 1250, 'trimmed')).toEqual({ maxMm: 15, baseMm: 5000 });
    expect(camberLimit(5000, 599, 'mill')).toBeNull();
  });

  test('length: 10 mm, then 0.5 %, then 40 mm', () => {
    expect([1999, 2000, 8000, 8001].map(lengthTolerancePlusMm)).toEqual([10, 10, 40, 40]);
    expect(lengthTolerancePlusMm(5000)).toBe(25);
  });

  test('uncropped ends are at most 20 m', () => {
    expect([4.5, 5, 12].map(uncroppedEndLengthM)).toEqual([20, 18, 7.5]);
  });

  test.each([0, -1, Number.NaN, Infinity])('%p is no size and no strength', (value) => {
    for (const rule of [categoryOfYield, squarenessLimitMm, lengthTolerancePlusMm, uncroppedEndLengthM]) {
      expect(() => rule(value)).toThrow(RangeError);
    }
    expect(() => camberLimit(value, 600, 'mill')).toThrow(RangeError);
    expect(() => camberLimit(5000, value, 'mill')).toThrow(RangeError);
  });
});
