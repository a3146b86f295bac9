import { describe, expect, test } from '@jest/globals';
import { foldedWall } from '#libs/ratings';

describe('the wall through the fold', () => {
  test('sizes and their uncertainty, by hand', () => {
    // t = 6, D = 126, κ = 1.2 ± 0.012, λ = 1 ± 0.01 (standard): t_out = 6/1.2 = 5; D_out = 1.2 · 120 + 5 = 149.
    const folded = foldedWall(126, 6, { value: 1.2, u: 0.012 }, { value: 1, u: 0.01 });
    expect(folded.wallThicknessMm).toBeCloseTo(5, 12);
    expect(folded.outsideDiameterMm).toBeCloseTo(149, 12);
    // ∂t/∂κ = −5/1.2, ∂t/∂λ = −5: U = 2 √((0.05)² + (0.05)²) = 0.1 √2.
    expect(folded.expandedUWallMm).toBeCloseTo(0.1 * Math.SQRT2, 12);
    // ∂D/∂κ = 120 − 5/1.2 = 115.8333, times 0.012 = 1.39; ∂D/∂λ = −5, times 0.01 = 0.05: U = 2 √(1.39² + 0.05²).
    expect(folded.expandedUDiameterMm).toBeCloseTo(2 * Math.sqrt(1.39 ** 2 + 0.05 ** 2), 12);
  });

  test('agrees with small changes of κ and λ', () => {
    const [kappa, lambda, step] = [1.16, 0.985, 1e-6];
    const at = (k: number, l: number) => foldedWall(127, 5, { value: k, u: 0.01 }, { value: l, u: 0.004 });
    const slope = (of: 'wallThicknessMm' | 'outsideDiameterMm', dk: number, dl: number): number => (at(kappa + dk, lambda + dl)[of] - at(kappa - dk, lambda - dl)[of]) / (2 * step);
    for (const [of, expanded] of [['wallThicknessMm', 'expandedUWallMm'], ['outsideDiameterMm', 'expandedUDiameterMm']] as const) {
      expect(at(kappa, lambda)[expanded]).toBeCloseTo(2 * Math.hypot(slope(of, step, 0) * 0.01, slope(of, 0, step) * 0.004), 7);
    }
  });

  test('one without uncertainty leaves that of the wall unknown', () => {
    expect(foldedWall(127, 5, { value: 1.16, u: null }, { value: 1, u: 0.01 })).toMatchObject({ expandedUWallMm: null, expandedUDiameterMm: null });
  });
});
