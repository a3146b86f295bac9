import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { certainAndPossible } from './certain-and-possible.js';

const set = (...pairs: [number, number][]) => IntervalSet.from(pairs.map(([fromMm, toMm]) => ({ fromMm, toMm })));

describe('certainly and possibly', () => {
  test('a boundary at 41.20 m ± 0.35 m (k = 2) makes two coils possible from 40.85 to 41.55', () => {
    const upper = certainAndPossible([{ fromMm: 0, toMm: 41_200, uFromMm: 0, uToMm: 175 }]);
    const lower = certainAndPossible([{ fromMm: 41_200, toMm: 90_000, uFromMm: 175, uToMm: 0 }]);
    expect(upper.possible.intersect(lower.possible)).toEqual(set([40_850, 41_550]));
    expect(upper.certain).toEqual(set([0, 40_850]));
    expect(lower.certain).toEqual(set([41_550, 90_000]));
  });

  test('certain is rounded inwards, possible outwards', () => {
    const { nominal, certain, possible } = certainAndPossible([{ fromMm: 10.4, toMm: 99.5, uFromMm: 0.25, uToMm: 0.25 }]);
    expect([nominal, certain, possible]).toEqual([set([10, 100]), set([11, 99]), set([9, 100])]);
  });

  test('nothing of a segment shorter than its doubt is certain', () => {
    expect(certainAndPossible([{ fromMm: 0, toMm: 100, uFromMm: 25, uToMm: 25 }]).certain.isEmpty).toBe(true);
  });

  test('segments that touch, in any order, have no doubt between them', () => {
    const { certain } = certainAndPossible([
      { fromMm: 100, toMm: 200, uFromMm: 10, uToMm: 5 },
      { fromMm: 0, toMm: 100, uFromMm: 5, uToMm: 10 },
      { fromMm: 120, toMm: 150, uFromMm: 90, uToMm: 90 },
    ]);
    expect(certain).toEqual(set([10, 190]));
  });
});
