import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { ISO_7870_2_RULES, NELSON_RULES, type RunRule, RUN_RULES, runSignals, shewhartRunLength, shewhartSignalChance, WESTERN_ELECTRIC_RULES } from '#libs/spc';
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

  test('no rules, no shift and what all but never signals are refused', () => {
    expect(zoneRules).toHaveLength(8);
    expect(() => shewhartRunLength([], 0)).toThrow(new RangeError('without rules no chart signals'));
    expect(() => shewhartRunLength(['fifteenWithin1Sigma'], 9)).toThrow(new RangeError('the run length is too long to be worked out'));
    expect(() => shewhartRunLength(['oneBeyond3Sigma'], NaN)).toThrow(new RangeError('not a shift: NaN'));
  });
});

describe('rules of points that rise, fall or alternate', () => {
  test.each([['sixSteadily', 5, false], ['sevenSteadily', 6, false], ['fourteenAlternating', 13, true]] as const)(
    '%s: the run length by ranks alone, whatever the shift', (rule, steps, alternating) => {
      const expected = lengthByRanks(steps, alternating);
      for (const shift of [0, 0.8, 3]) expect(shewhartRunLength([rule], shift) / expected).toBeCloseTo(1, 10);
    });

  test('the first chance to signal: two orders of all, and the up-down numbers of André', () => {
    expect(shewhartSignalChance(['sixSteadily'], 6, 0) / (2 / 720)).toBeCloseTo(1, 10);
    expect(shewhartSignalChance(['sevenSteadily'], 7, 1) / (2 / 5040)).toBeCloseTo(1, 10);
    expect(shewhartSignalChance(['fourteenAlternating'], 14, 0) / ((2 * 199_360_981) / 87_178_291_200)).toBeCloseTo(1, 9);
    expect(shewhartSignalChance(['sixSteadily'], 5, 0)).toBeCloseTo(0, 14);
  });

  test('beside other rules they signal sooner than without, and either direction of a shift is the same', () => {
    const [one, all] = [shewhartRunLength(ISO_7870_2_RULES.slice(0, 2), 0), shewhartRunLength(ISO_7870_2_RULES, 0)];
    expect(all).toBeLessThan(one);
    // Nearly as if they signalled each for itself.
    expect(1 / (1 / one + 1 / shewhartRunLength(['sevenSteadily'], 0)) / all).toBeCloseTo(1, 1);
    expect(shewhartRunLength(ISO_7870_2_RULES, -1) / shewhartRunLength(ISO_7870_2_RULES, 1)).toBeCloseTo(1, 10);
    expect(shewhartRunLength(NELSON_RULES, 0)).toBeLessThan(shewhartRunLength(NELSON_RULES.slice(0, 4), 0));
  });

  test('the chances of all points sum to the run length', () => {
    const silent = Array.from({ length: 100 }, (_, points) => 1 - shewhartSignalChance(ISO_7870_2_RULES, points, 2));
    expect(silent.reduce((sum, one) => sum + one, 0)).toBeCloseTo(shewhartRunLength(ISO_7870_2_RULES, 2), 9);
    expect(() => shewhartSignalChance(ISO_7870_2_RULES, -1, 0)).toThrow(new RangeError('not a number of points: -1'));
  });
});

/**
 * Without zones only the order of values counts: by the rank of the last one among all so far, which of a new one is as likely
 * as any other. Point by point until what is silent shrinks by one factor.
 */
function lengthByRanks(steps: number, alternating: boolean): number {
  let [states, sum, remaining, factor] = [[{ rank: 1, direction: 0, run: 0, chance: 1 }], 1, 1, 0];
  for (let count = 2; count <= 60; count++) {
    const next = new Map<string, (typeof states)[number]>();
    for (const { rank, direction, run, chance } of states) {
      for (let to = 1; to <= count; to++) {
        const step = to > rank ? 1 : -1;
        const longer = direction !== 0 && (step === direction) !== alternating ? run + 1 : 1;
        if (longer === steps) continue;
        const key = `${to},${step},${longer}`;
        next.set(key, { rank: to, direction: step, run: longer, chance: (next.get(key)?.chance ?? 0) + chance / count });
      }
    }
    states = [...next.values()];
    sum += remaining;
    const silent = states.reduce((total, { chance }) => total + chance, 0);
    [factor, remaining] = [silent / remaining, silent];
  }
  return sum + remaining / (1 - factor);
}
