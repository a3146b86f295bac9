import { describe, expect, test } from '@jest/globals';
import { aCutOut, aHangOff, aString, aTie, recordRef } from '../../test/fixtures/string-lengths.js';
import { LengthModel } from './length-model.js';
import { uAtTie } from './uncertainty.js';

describe('the outer wall', () => {
  test('without ties runs from the hang-off by the default ratio', () => {
    const { outer } = new LengthModel(aString({ defaultRatio: { record: null, lambda: 0.9, u: 0 } }));
    expect(outer.map.at(12_000)).toBe(2_500 + 9_000);
    expect(outer.basisAt(2_000)).toBe('past the last tie (default ratio)');
  });

  test('starts at the hang-off: above it there is none', () => {
    const { outer } = new LengthModel(aString());
    expect(() => outer.map.at(1_999)).toThrow(RangeError);
  });

  test('goes through every tie: n_shoe = n(F) − x − D at md_h + D', () => {
    // F = 60 000 less a cut-out of 1 000, less 18 000 of line, less D = 20 000: n = 21 000.
    const { outer } = new LengthModel(aString({ cutOuts: [aCutOut(45_000, 46_000, 50_000)], shoeTies: [aTie(60_000, 60_000, 22_500)] }));
    expect(outer.knots.map(({ netMm, mdMm }) => [netMm, mdMm])).toEqual([
      [2_000, 2_500],
      [21_000, 22_500],
    ]);
    expect(outer.lambdaAt(10_000)).toBeCloseTo(20 / 19, 12);
    expect(outer.lambdaAt(21_000)).toBe(1);
    expect([21_000, 21_001].map((net) => outer.basisAt(net))).toEqual(['between ties', 'past the last tie (default ratio)']);
  });

  test('a cut-out made after a tie does not shorten that tie', () => {
    const tie = aTie(60_000, 60_000, 22_500);
    const without = new LengthModel(aString({ shoeTies: [tie] }));
    const cutLater = new LengthModel(aString({ shoeTies: [tie], cutOuts: [aCutOut(45_000, 46_000, 60_001)] }));
    expect(cutLater.outer.knots).toEqual(without.outer.knots);
  });

  test('each tie uses the line set-up of its time', () => {
    const lengths = aString({
      hangOffPath: [18_000, 19_000].map((pathMm, index) => ({ record: recordRef('line-set-up', `${index}`), validFromUs: index * 50_000, pathMm, uPathMm: 0 })),
      shoeTies: [aTie(40_000, 40_000, 12_500), aTie(60_000, 60_000, 22_000)],
    });
    expect(new LengthModel(lengths).outer.ties.map(({ netMm }) => netMm)).toEqual([12_000, 21_500]);
  });

  test('a tie that does not rise with the others is kept out of the map and in the list', () => {
    const wrong = aTie(70_000, 70_000, 90_000);
    const { outer } = new LengthModel(aString({ shoeTies: [aTie(60_000, 60_000, 22_500), wrong, aTie(80_000, 80_000, 32_500)] }));
    expect(outer.ties).toHaveLength(3);
    expect(outer.ties.map((point) => outer.isUsed(point))).toEqual([true, false, true]);
  });

  test('ties before the hang-off are no ties of this string', () => {
    const { outer } = new LengthModel(aString({ shoeTies: [aTie(19_999, 19_999, 3_000), aTie(20_000, 20_000, 2_500)] }));
    expect(outer.ties.map(({ tie }) => tie.atUs)).toEqual([20_000]);
  });

  test('uncertainty is the hang-off’s at the hang-off, the tie’s at the tie, and bridges in between', () => {
    const lengths = aString({ hangOff: aHangOff({ uMdMm: 3, uFootageMm: 4 }), shoeTies: [aTie(82_000, 82_000, 33_500, 20)], scaleRelativeU: 0.001 });
    const { outer } = new LengthModel(lengths);
    const [, tie] = outer.knots;
    expect(outer.uAt(2_000)).toBeCloseTo(5, 9);
    expect(tie!.uMm).toBe(uAtTie({ uShoeMm: 20, uPathMm: 0, uHangOffMdMm: 3, behindWeldMm: 49_000, lambda: 1, scaleRelativeU: 0.001 }));
    // Half way along 31 000 mm of net length the bridge is s · 15 500 · 15 500 / 31 000 = 7.75.
    expect(tie!.netMm).toBe(33_000);
    expect(outer.uAt(17_500)).toBeCloseTo(Math.hypot((5 + tie!.uMm) / 2, 7.75), 9);
    expect(outer.uWithout(outer.ties[0]!, 33_000)).toBeCloseTo(Math.hypot(5, 31), 9);
  });
});
