import { describe, expect, test } from '@jest/globals';
import { LengthModel, type UncertainSegment } from '#libs/length';
import { aCutOut, aHangOff, aString } from '../../../../test/fixtures/string-lengths.js';
import { depthsOn, footageSetsOf, setsOf } from './uncertain-footage.js';

const span = (fromMm: number, toMm: number, uFromMm = 0, uToMm = uFromMm): UncertainSegment => ({ fromMm, toMm, uFromMm, uToMm });
const pairs = (set: { intervals: readonly { fromMm: number; toMm: number }[] }): number[][] =>
  set.intervals.map(({ fromMm, toMm }) => [fromMm, toMm]);

test('footage: ends widened and narrowed by k = 2, none of it below 0', () => {
  const sets = footageSetsOf([span(10, 1000, 20, 5)]);
  expect([pairs(sets.certain), pairs(sets.nominal), pairs(sets.possible)]).toEqual([[[50, 990]], [[10, 1000]], [[0, 1010]]]);
});

test('of two records with the same beginning the more doubtful one says what is possible', () => {
  expect(pairs(setsOf([span(1000, 2000, 1), span(1000, 1500, 40)]).possible)).toEqual([[920, 2002]]);
});

test('an interval shorter than its doubt is nowhere certain', () => {
  expect(setsOf([span(1000, 1010, 5)]).certain.isEmpty).toBe(true);
});

describe('on a wall (hang-off of footage 2000 at 2500, u 30; 120000 made: shoe of footage 52000 at 52500)', () => {
  const lengths = new LengthModel(aString({ hangOff: aHangOff({ uMdMm: 30 }) }));
  const shoe = lengths.shoeAt({ shoeMdMm: 52_500 });
  const [outer, inner] = [lengths.outerWall(shoe), lengths.innerWall(shoe)];

  test('a boundary carries √(30² + 40²) = 50', () => {
    const sets = depthsOn(outer, [span(10_000, 20_000, 40)]);
    expect([pairs(sets.certain), pairs(sets.nominal), pairs(sets.possible)]).toEqual([[[10_600, 20_400]], [[10_500, 20_500]], [[10_400, 20_600]]]);
  });

  test('the inner wall turns it round: the end of the footage is the upper end', () => {
    const sets = depthsOn(inner, [span(60_000, 70_000, 0, 40)]);
    // md = 104500 − p; 30 at the lower end, 50 at the upper
    expect([pairs(sets.nominal), pairs(sets.possible)]).toEqual([[[34_500, 44_500]], [[34_400, 44_560]]]);
  });

  test('pipe that ends just above the shoe possibly reaches the inner wall', () => {
    const sets = depthsOn(inner, [span(50_000, 51_990, 0, 100)]);
    expect(sets.nominal.isEmpty).toBe(true);
    // Possible footage to 52190, that is inner wall from 52310; 30 more of its own, twice.
    expect(pairs(sets.possible)).toEqual([[52_250, 52_560]]);
    expect(depthsOn(inner, [span(50_000, 51_990)]).possible.isEmpty).toBe(true);
  });

  test('a piece that ends at a cut-out carries the wall\'s doubt there, and reaches beyond it by its own', () => {
    const cut = new LengthModel(aString({ hangOff: aHangOff({ uMdMm: 30 }), cutOuts: [aCutOut(30_000, 31_000, 40_000)] }));
    const wall = cut.outerWall(cut.shoeAt({ shoeMdMm: 52_500 }));
    expect(pairs(depthsOn(wall, [span(20_000, 30_500, 0)]).possible)).toEqual([[20_440, 30_560]]);
    // An end at 30500 ± 600 may lie 100 mm past the cut.
    expect(pairs(depthsOn(wall, [span(20_000, 30_500, 0, 300)]).possible)).toEqual([[20_440, 30_660]]);
  });
});
