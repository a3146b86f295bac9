import { describe, expect, test } from '@jest/globals';
import { collapse, COLLAPSE_FORMULAS, COLLAPSE_REGIMES, COLLAPSE_YIELD_PSI, collapseConstants, collapseLimits } from '#libs/ratings';

const YIELDS_PSI = Array.from({ length: 111 }, (_, index) => COLLAPSE_YIELD_PSI.from + index * 1000);

describe('collapse pressure', () => {
  test('neighbouring formulas meet at their limits: no jump', () => {
    for (const yieldPsi of YIELDS_PSI) {
      const constants = collapseConstants(yieldPsi);
      const { yieldToPlastic, plasticToTransition, transitionToElastic } = collapseLimits(yieldPsi, constants);
      [yieldToPlastic, plasticToTransition, transitionToElastic].forEach((x, index) => {
        const [before, after] = [COLLAPSE_REGIMES[index]!, COLLAPSE_REGIMES[index + 1]!];
        const left = COLLAPSE_FORMULAS[before](yieldPsi, x, constants);
        expect(Math.abs(COLLAPSE_FORMULAS[after](yieldPsi, x, constants) / left - 1)).toBeLessThan(1e-9);
        expect(collapse(yieldPsi, x).regime).toBe(before);
        expect(collapse(yieldPsi, x * (1 + 1e-9)).regime).toBe(after);
      });
    }
    expect(YIELDS_PSI.at(-1)).toBe(COLLAPSE_YIELD_PSI.to);
  });

  test('transition collapse touches elastic collapse: they have one slope where they meet', () => {
    for (const yieldPsi of YIELDS_PSI) {
      const constants = collapseConstants(yieldPsi);
      const x = collapseLimits(yieldPsi, constants).transitionToElastic;
      const slope = (regime: 'transition' | 'elastic'): number => (COLLAPSE_FORMULAS[regime](yieldPsi, x + 1e-4, constants) - COLLAPSE_FORMULAS[regime](yieldPsi, x - 1e-4, constants)) / 2e-4;
      expect(slope('transition') / slope('elastic')).toBeCloseTo(1, 5);
    }
  });

  test('the limits rise in order, and fall with rising yield strength', () => {
    const all = YIELDS_PSI.map((yieldPsi) => Object.values(collapseLimits(yieldPsi, collapseConstants(yieldPsi))) as number[]);
    for (const limits of all) expect(limits).toEqual([...limits].sort((a, b) => a - b));
    all.slice(1).forEach((limits, index) => { limits.forEach((limit, at) => { expect(limit).toBeLessThan(all[index]![at]!); }); });
  });

  test('the constants are told for the yield strengths that were found in print, and no others', () => {
    expect(collapseConstants(40_000).a).toBeCloseTo(2.9496, 4);
    for (const yieldPsi of [39_999, 150_001, 0, -1, Number.NaN, Infinity]) expect(() => collapseConstants(yieldPsi)).toThrow(RangeError);
    // Why there is an upper end: further up the polynomials would rate a stronger steel lower.
    const plastic = (yieldPsi: number, a: number, b: number, cPsi: number): number => yieldPsi * (a / 17.95 - b) - cPsi;
    const at = (y: number): number => plastic(y, 2.8762 + 0.10679e-5 * y + 0.21301e-10 * y ** 2 - 0.53132e-16 * y ** 3, 0.026233 + 0.50609e-6 * y, -465.93 + 0.030867 * y - 0.10483e-7 * y ** 2 + 0.36989e-13 * y ** 3);
    expect(at(166_000)).toBeLessThan(at(165_000));
  });

  test.each([2, 1, 0, -5, Number.NaN, Infinity])('D/t %p is no pipe', (dOverT) => {
    expect(() => collapse(80_000, dOverT)).toThrow(new RangeError(`D/t must be over 2: ${dOverT}`));
  });
});
