import { describe, expect, test } from '@jest/globals';
import { foldHoopStrain, outerWallThicknessMm } from './fold.js';

describe('the wall at the fold', () => {
  test('6.00 mm at κ = 1.16 and λ = 1 becomes 5.17 mm (6 / 1.16 by hand)', () => {
    expect(outerWallThicknessMm(6, 1.16, 1)).toBeCloseTo(5.1724, 4);
  });

  test('keeps its thickness when the length ratio makes up for the diameter', () => {
    expect(outerWallThicknessMm(6, 1.2, 1 / 1.2)).toBeCloseTo(6, 12);
  });

  test('κ = 1.2 is a logarithmic hoop strain of 0.182322', () => {
    expect(foldHoopStrain(1.2)).toBeCloseTo(0.182322, 6);
  });

  test('refuses what is not positive', () => {
    expect(() => outerWallThicknessMm(0, 1.1, 1)).toThrow(RangeError);
    expect(() => foldHoopStrain(0)).toThrow(RangeError);
  });
});
