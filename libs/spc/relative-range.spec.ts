import { describe, expect, test } from '@jest/globals';
import { meanRelativeRange, rootMeanSquareRelativeRange } from '#libs/spc';

describe('ranges of normal values', () => {
  test('closed forms: d2 = 2/√π for two values and 3/√π for three; the range of two has the mean square 2', () => {
    expect(meanRelativeRange(2)).toBeCloseTo(2 / Math.sqrt(Math.PI), 14);
    expect(meanRelativeRange(3)).toBeCloseTo(3 / Math.sqrt(Math.PI), 14);
    expect(rootMeanSquareRelativeRange(2)).toBeCloseTo(Math.SQRT2, 13);
    // Three values: the mean square of the range is 2 + 3√3/π.
    expect(rootMeanSquareRelativeRange(3) ** 2).toBeCloseTo(2 + (3 * Math.sqrt(3)) / Math.PI, 12);
  });

  test('more values have a wider range, and no mean is above the root of its mean square', () => {
    const groups = [2, 3, 5, 10, 25, 100, 500];
    groups.forEach((m, index) => {
      expect(meanRelativeRange(m)).toBeLessThan(rootMeanSquareRelativeRange(m));
      if (index > 0) expect(meanRelativeRange(m)).toBeGreaterThan(meanRelativeRange(groups[index - 1]!));
    });
  });

  /** The same integral by another program, numpy with the normal distribution of scipy, with steps a quarter as long. */
  test.each([[25, 15.95173438001593], [100, 25.51834513665161], [500, 37.16020467844797], [1000, 42.27436922646402]])(
    'the mean square of the range of %i values', (m, square) => {
      expect(Math.abs(rootMeanSquareRelativeRange(m) ** 2 / square - 1)).toBeLessThan(1e-11);
    });

  test.each([1, 0, 2.5, NaN])('there is no range of %p values', (m) => {
    expect(() => meanRelativeRange(m)).toThrow(new RangeError(`a range is taken of at least 2 values: ${m}`));
    expect(() => rootMeanSquareRelativeRange(m)).toThrow(RangeError);
  });
});
