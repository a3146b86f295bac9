import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { correlationOf, hotellingT2, meanAndCovariance, pooledSubgroups, summaryOf, t2IndividualLimits, t2SubgroupLimits } from '#libs/spc';
import { seedFromEnvironment } from '../setup/seed.js';
import { Draws } from './line-draws.reference.js';

const DESIGN = { characteristics: 3, alpha: 0.01 };

describe('Hotelling T²', () => {
  test('of one characteristic is the square of its distance in standard deviations', () => {
    const values = [4, 7, 5, 9, 6];
    const { mean, standardDeviation } = summaryOf(values);
    const model = meanAndCovariance(values.map((value) => [value]));
    expect(hotellingT2([9], model)).toBeCloseTo(((9 - mean) / standardDeviation!) ** 2, 12);
    expect(hotellingT2([9], model, 4)).toBeCloseTo(4 * ((9 - mean) / standardDeviation!) ** 2, 12);
  });

  test('depends on no unit, zero point or mixture of the characteristics', () => {
    const row = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 3, maxLength: 3 });
    const factor = fc.constantFrom(-3, -1, 0.5, 2, 1000);
    fc.assert(fc.property(fc.array(row, { minLength: 6, maxLength: 12 }), row, factor, factor, (rows, x, one, other) => {
      const model = meanAndCovariance(rows);
      const changed = ([a, b, c]: readonly number[]): number[] => [one * a! + 7, other * b! + a!, c! - a! - 2 * b!];
      fc.pre(determinant(correlationOrNull(model.covariance)) > 1e-3);
      const mixed = meanAndCovariance(rows.map(changed));
      fc.pre(determinant(correlationOrNull(mixed.covariance)) > 1e-9);
      const t2 = hotellingT2(x, model);
      expect(Math.abs(hotellingT2(changed(x), mixed) - t2)).toBeLessThan(1e-6 * Math.max(1, t2));
    }), { ...seedFromEnvironment(), numRuns: 200 });
  });

  test('the T² of the rows themselves sum to (m − 1) p, and none reaches (m − 1)²/m', () => {
    const rows = simulatedRows(new Draws(5), 12);
    const t2s = rows.map((row) => hotellingT2(row, meanAndCovariance(rows)));
    expect(t2s.reduce((sum, t2) => sum + t2, 0)).toBeCloseTo(11 * 3, 9);
    expect(Math.max(...t2s)).toBeLessThan(121 / 12);
  });

  test('refuses characteristics that follow from each other, and rows that do not fit', () => {
    const rows = [[1, 2], [2, 4], [5, 10], [7, 14]];
    expect(() => hotellingT2([1, 2], meanAndCovariance(rows))).toThrow(new RangeError('a characteristic follows from the others or does not vary: no T² exists'));
    expect(() => hotellingT2([1], meanAndCovariance([[1, 2], [2, 1], [4, 4]]))).toThrow(new RangeError('rows must hold the same characteristics'));
    expect(() => hotellingT2([NaN], meanAndCovariance([[1], [2]]))).toThrow(RangeError);
    expect(() => meanAndCovariance([[1, 2], [3]])).toThrow(RangeError);
    expect(() => meanAndCovariance([[1, 2]])).toThrow(new RangeError('a covariance is taken of at least 2 rows: 1'));
    expect(() => correlationOf([[0]])).toThrow(new RangeError('a characteristic that does not vary has no correlation'));
    expect(() => pooledSubgroups([{ n: 2, mean: [1], covariance: [[1]] }, { n: 3, mean: [1], covariance: [[1]] }])).toThrow(RangeError);
    expect(() => pooledSubgroups([])).toThrow(RangeError);
  });
});

describe('limits of T², on simulated correlated characteristics with a fixed seed', () => {
  test('single rows: the share beyond is alpha in both phases', () => {
    const [draws, m, rounds] = [new Draws(11), 15, 4000];
    const limits = t2IndividualLimits(m, DESIGN);
    let [first, later] = [0, 0];
    for (let round = 0; round < rounds; round++) {
      const rows = simulatedRows(draws, m + 1);
      const model = meanAndCovariance(rows.slice(0, m));
      // One row of each round: those of a round depend on one another.
      if (hotellingT2(rows[0]!, model) > limits.phase1) first++;
      if (hotellingT2(rows[m]!, model) > limits.phase2) later++;
    }
    expectAlpha(first, rounds);
    expectAlpha(later, rounds);
  });

  test('subgroups: the share beyond is alpha in both phases', () => {
    const [draws, m, n, rounds] = [new Draws(12), 6, 3, 4000];
    const limits = t2SubgroupLimits(m, n, DESIGN);
    let [first, later] = [0, 0];
    for (let round = 0; round < rounds; round++) {
      const groups = Array.from({ length: m + 1 }, () => ({ n, ...meanAndCovariance(simulatedRows(draws, n)) }));
      const model = pooledSubgroups(groups.slice(0, m));
      if (hotellingT2(groups[0]!.mean, model, n) > limits.phase1) first++;
      if (hotellingT2(groups[m]!.mean, model, n) > limits.phase2) later++;
    }
    expectAlpha(first, rounds);
    expectAlpha(later, rounds);
  });

  test('both phases approach the known one with many rows', () => {
    const { phase1, phase2, known } = t2IndividualLimits(100_000, DESIGN);
    expect(Math.abs(phase1 / known - 1)).toBeLessThan(1e-3);
    expect(Math.abs(phase2 / known - 1)).toBeLessThan(1e-3);
  });

  test('refuse too few rows', () => {
    expect(() => t2IndividualLimits(4, DESIGN)).toThrow(new RangeError('4 rows are too few for 3 characteristics'));
    expect(() => t2SubgroupLimits(2, 2, DESIGN)).toThrow(new RangeError('2 subgroups of 2 are too few for 3 characteristics'));
    expect(() => t2SubgroupLimits(5, 1, DESIGN)).toThrow(new RangeError('not the size of a subgroup: 1'));
    expect(() => t2IndividualLimits(10, { characteristics: 2, alpha: 0 })).toThrow(RangeError);
    expect(() => t2IndividualLimits(10, { characteristics: 0, alpha: 0.1 })).toThrow(RangeError);
  });
});

function expectAlpha(beyond: number, rounds: number): void {
  const { alpha } = DESIGN;
  expect(Math.abs(beyond / rounds - alpha)).toBeLessThan(4 * Math.sqrt((alpha * (1 - alpha)) / rounds));
}

function simulatedRows(draws: Draws, count: number): number[][] {
  const normal = (): number => normalQuantile(Math.max(draws.fraction(), 1e-10), 0, 1);
  return Array.from({ length: count }, () => {
    const [a, b, c] = [normal(), normal(), normal()];
    return [100 + a, 5 + 0.8 * a + 0.1 * b, -3 * c + b];
  });
}

function correlationOrNull(covariance: readonly (readonly number[])[]): readonly (readonly number[])[] | null {
  return covariance.every((row, index) => row[index]! > 0) ? correlationOf(covariance) : null;
}

function determinant(m: readonly (readonly number[])[] | null): number {
  if (m === null) return 0;
  const [a, b, c] = [m[0]![1]!, m[0]![2]!, m[1]![2]!];
  return 1 + 2 * a * b * c - a * a - b * b - c * c;
}
