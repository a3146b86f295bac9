import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { type RunRule, RUN_RULES, runSignals, shewhartRunLength, WESTERN_ELECTRIC_RULES } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';

const zoneRules = (Object.keys(RUN_RULES) as RunRule[]).filter((rule) => 'inZone' in RUN_RULES[rule]);

describe('shewhartRunLength', () => {
  test('one rule of one point: the inverse of its probability', () => {
    for (const shift of [0, 0.7, 2, 5]) {
      expect(shewhartRunLength(['oneBeyond3Sigma'], shift)).toBeCloseTo(1 / (normalCdf(-3, shift, 1) + normalCdf(-3, -shift, 1)), 9);
    }
  });

  test('runs in closed form: of k points with the probability p, (1 − p^k)/((1 − p) p^k)', () => {
    const within = 1 - 2 * normalCdf(-1, 0, 1);
    const expected = (p: number, k: number): number => (1 - p ** k) / ((1 - p) * p ** k);
    expect(shewhartRunLength(['fifteenWithin1Sigma'], 0) / expected(within, 15)).toBeCloseTo(1, 10);
    expect(shewhartRunLength(['eightBeyond1Sigma'], 0) / expected(1 - within, 8)).toBeCloseTo(1, 10);
    // On one side or the other: a run of k is one of k − 1 that the next point goes on, with p = 1/2.
    expect(shewhartRunLength(['nineOnOneSide'], 0)).toBeCloseTo(1 + expected(0.5, 8), 7);
  });

  test('more rules signal sooner, a shift signals sooner, and either direction the same', () => {
    const all = shewhartRunLength(WESTERN_ELECTRIC_RULES, 0);
    for (const rule of WESTERN_ELECTRIC_RULES) expect(all).toBeLessThan(shewhartRunLength([rule], 0));
    expect(shewhartRunLength(WESTERN_ELECTRIC_RULES, 1)).toBeLessThan(all);
    expect(shewhartRunLength(WESTERN_ELECTRIC_RULES, -1)).toBeCloseTo(shewhartRunLength(WESTERN_ELECTRIC_RULES, 1), 9);
  });

  /** Champ and Woodall (1987), Table 1, all four rules, from memory. */
  test.each([[0, 91.75], [1, 9.22]])('the four rules of Western Electric at a shift of %p signal after %p points', (shift, printed) => {
    expect(Math.abs(shewhartRunLength(WESTERN_ELECTRIC_RULES, shift) - printed)).toBeLessThanOrEqual(0.005);
  });

  test('what the rules themselves do on 60,000 points of white noise agrees within five standard errors', () => {
    const draw = normalNumbers(20_261_126);
    const points = Array.from({ length: 60_000 }, () => ({ value: draw(), centre: 0, standardError: 1 }));
    const lengths: number[] = [];
    for (let from = 0; from + 1500 < points.length;) {
      const signal = runSignals(points.slice(from, from + 1500), WESTERN_ELECTRIC_RULES)[0]!;
      lengths.push(signal.point);
      from += signal.point;
    }
    const mean = lengths.reduce((sum, one) => sum + one, 0) / lengths.length;
    const error = Math.sqrt(lengths.reduce((sum, one) => sum + (one - mean) ** 2, 0)) / lengths.length;
    expect(Math.abs(mean - shewhartRunLength(WESTERN_ELECTRIC_RULES, 0))).toBeLessThan(5 * error);
    expect(lengths.length).toBeGreaterThan(500);
  });

  test('rules that depend on more than zones, no rules and no shift are refused', () => {
    expect(zoneRules).toHaveLength(8);
    expect(() => shewhartRunLength(['sixSteadily'], 0)).toThrow(
      new RangeError('a run length is not known with the rule of 6 points in a row, each above the last or each below it: it depends on more than zones'));
    expect(() => shewhartRunLength([], 0)).toThrow(new RangeError('without rules no chart signals'));
    expect(() => shewhartRunLength(['fifteenWithin1Sigma'], 9)).toThrow(new RangeError('the run length is too long to be worked out'));
    expect(() => shewhartRunLength(['oneBeyond3Sigma'], NaN)).toThrow(new RangeError('not a shift: NaN'));
  });
});
