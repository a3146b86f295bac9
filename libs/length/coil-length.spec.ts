import { describe, expect, test } from '@jest/globals';
import { coilLengthMm } from './coil-length.js';

describe('coil length from mass', () => {
  test('one metre of 1,000 × 1 mm steel strip weighs 7.85 kg', () => {
    expect(coilLengthMm(7.85, 1_000, 1)).toBeCloseTo(1_000, 9);
  });

  test('takes another density', () => {
    expect(coilLengthMm(8, 1_000, 1, 8_000)).toBeCloseTo(1_000, 9);
  });

  test.each([[0, 1, 1], [1, -1, 1], [1, 1, Number.NaN]])('refuses mass %d, width %d, thickness %d', (mass, width, thickness) => {
    expect(() => coilLengthMm(mass, width, thickness)).toThrow(RangeError);
  });
});
