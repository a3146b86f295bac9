import { describe, expect, test } from '@jest/globals';
import { reignsOf, takenPlaceOf } from './standing-limits.js';

const limits = (number: number, appliesFromMm: number): { number: number; appliesFromMm: number } => ({ number, appliesFromMm });
const shown = (all: readonly ReturnType<typeof limits>[], fromMm: number, toMm: number): [number, number, number][] =>
  reignsOf(all, { fromMm, toMm }).map(({ limits: { number }, during }) => [number, during.fromMm, during.toMm]);

describe('limits of a chart hold', () => {
  test('from where they apply, as far as later ones do', () => {
    expect(shown([limits(1, 100), limits(2, 200)], 0, 300)).toEqual([[1, 100, 200], [2, 200, 300]]);
    expect(shown([limits(1, 100), limits(2, 200)], 150, 151)).toEqual([[1, 150, 151]]);
    expect(shown([limits(1, 100), limits(2, 200)], 200, 201)).toEqual([[2, 200, 201]]);
  });

  test('nowhere where later ones apply from the same place, or from before it', () => {
    expect(shown([limits(3, 50), limits(1, 100), limits(2, 200)], 0, 300)).toEqual([[3, 50, 300]]);
    expect(shown([limits(1, 100), limits(2, 100)], 0, 300)).toEqual([[2, 100, 300]]);
  });

  test('nowhere where there are none', () => {
    expect(shown([], 5, 9)).toEqual([]);
    expect(shown([limits(1, 100)], 5, 100)).toEqual([]);
  });
});

describe('later limits take the place of earlier ones', () => {
  const lost = (all: readonly ReturnType<typeof limits>[], madeMm: Readonly<Record<number, number>>): unknown =>
    all.map((one) => takenPlaceOf(one, all, ({ number }) => madeMm[number] ?? 0).map(({ fromMm, toMm }) => [one.number, fromMm, toMm]));

  test('on pipe that was made by then and that both apply to, and on no other', () => {
    expect(lost([limits(1, 100), limits(2, 200)], { 2: 250 })).toEqual([[[1, 200, 250]], []]);
    expect(lost([limits(1, 100), limits(2, 0)], { 2: 250 })).toEqual([[[1, 100, 250]], []]);
    expect(lost([limits(1, 100), limits(2, 200)], { 2: 200 })).toEqual([[], []]);
    expect(lost([limits(1, 100), limits(2, 200), limits(3, 150)], { 2: 250, 3: 300 })).toEqual([[[1, 150, 300]], [[2, 200, 300]], []]);
  });
});
