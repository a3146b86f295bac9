import { describe, expect, test } from '@jest/globals';
import { aCutOut, aHangOff, aString } from '../../test/fixtures/string-lengths.js';
import { innerWallMap } from './inner-wall-map.js';
import { LengthModel } from './length-model.js';

// 40 000 mm below the hang-off, less the cut-outs: outer wall 2 000–22 000 net, inner wall 22 000–42 000.
const model = new LengthModel(aString({ cutOuts: [aCutOut(10_000, 10_500, 20_000), aCutOut(30_000, 31_000, 40_000)], scaleRelativeU: 0.001 }));
const shoe = model.shoeAt({ shoeMdMm: 22_500 });
const outer = model.outerWall(shoe);
const inner = model.innerWall(shoe);
const pairs = (pieces: { footage: { fromMm: number; toMm: number }; md: { fromMm: number; toMm: number } }[]) =>
  pieces.map(({ footage, md }) => [footage.fromMm, footage.toMm, md.fromMm, md.toMm]);

describe('a wall', () => {
  test('gives the depth of a footage, falling with footage on the inner wall', () => {
    expect([2_000, 9_999, 10_500, 22_499].map((p) => outer.mdAt(p).mdMm)).toEqual([2_500, 10_499, 10_500, 22_499]);
    expect([22_500, 29_999, 31_000, 43_000].map((p) => inner.mdAt(p).mdMm)).toEqual([22_500, 15_001, 15_000, 3_000]);
  });

  test('gives the footage at a depth; at a re-join the pipe above the cut', () => {
    expect([2_500, 10_500, 22_500].map((md) => outer.footageAt(md).footageMm)).toEqual([2_000, 10_500, 22_500]);
    expect([22_500, 15_000, 2_500].map((md) => inner.footageAt(md).footageMm)).toEqual([22_500, 31_000, 43_500]);
  });

  test('splits a footage interval at a cut-out and clips it to the wall', () => {
    expect(pairs(outer.piecesOfFootage({ fromMm: 0, toMm: 50_000 }))).toEqual([
      [2_000, 10_000, 2_500, 10_500],
      [10_500, 22_500, 10_500, 22_500],
    ]);
    expect(pairs(inner.piecesOfFootage({ fromMm: 29_000, toMm: 32_000 }))).toEqual([
      [29_000, 30_000, 15_000, 16_000],
      [31_000, 32_000, 14_000, 15_000],
    ]);
    expect(inner.piecesOfFootage({ fromMm: 0, toMm: 22_500 })).toEqual([]);
    expect(outer.piecesOfFootage({ fromMm: 10_100, toMm: 10_200 })).toEqual([]);
  });

  test('gives the pipe in a depth interval, and says what it does not reach', () => {
    expect(pairs(inner.piecesAtDepth({ fromMm: 14_000, toMm: 16_000 }).pieces)).toEqual([
      [29_000, 30_000, 15_000, 16_000],
      [31_000, 32_000, 14_000, 15_000],
    ]);
    const { pieces, beyond } = outer.piecesAtDepth({ fromMm: 2_000, toMm: 30_000 });
    expect(pairs(pieces)).toHaveLength(2);
    expect(beyond).toEqual([
      { md: { fromMm: 2_000, toMm: 2_500 }, why: 'above-the-hang-off' },
      { md: { fromMm: 22_500, toMm: 30_000 }, why: 'below-the-shoe' },
    ]);
  });

  test.each([
    ['empty', { fromMm: 5, toMm: 5 }, 'empty-interval'],
    ['reversed', { fromMm: 6, toMm: 5 }, 'reversed-interval'],
    ['above the hang-off', { fromMm: 1_000, toMm: 2_500 }, 'above-the-hang-off'],
    ['below the shoe', { fromMm: 22_500, toMm: 23_000 }, 'below-the-shoe'],
  ])('refuses a depth interval that is %s', (_, md, code) => {
    for (const wall of [outer, inner]) expect(() => wall.piecesAtDepth(md)).toThrow(expect.objectContaining({ code }));
  });

  test('refuses a depth or a footage that is not on it, and says why', () => {
    const refusal = (ask: () => unknown, code: string) => { expect(ask).toThrow(expect.objectContaining({ code })); };
    refusal(() => outer.footageAt(2_499), 'above-the-hang-off');
    refusal(() => inner.footageAt(22_501), 'below-the-shoe');
    refusal(() => outer.mdAt(10_000), 'cut-out');
    refusal(() => outer.mdAt(1_999), 'above-the-hang-off');
    refusal(() => inner.mdAt(43_500), 'above-the-hang-off');
    refusal(() => outer.mdAt(22_500), 'not-on-this-wall');
    refusal(() => inner.mdAt(22_499), 'not-on-this-wall');
  });

  test('a footage’s own uncertainty counts λ-fold on the outer wall, once on the inner', () => {
    const thin = new LengthModel(aString({ defaultRatio: { record: null, lambda: 0.5, u: 0 } }));
    const atShoe = thin.shoeAt({ shoeMdMm: 12_500 });
    expect(thin.outerWall(atShoe).mdAt(2_000, 10).uMm).toBe(5);
    expect(thin.innerWall(atShoe).mdAt(22_000, 10).uMm).toBe(10);
    expect(thin.outerWall(atShoe).footageAt(2_500).uMm).toBe(0);
  });

  test('an inner wall counted from the weld point loses certainty with the pipe counted, not with the depth of the shoe', () => {
    const lengths = aString({ hangOff: aHangOff({ uMdMm: 3 }), defaultRatio: { record: null, lambda: 1, u: 0.5 }, scaleRelativeU: 0.001 });
    const counting = new LengthModel(lengths);
    const counted = counting.innerWall(counting.shoeAt({ weldFootageMm: 60_000, uWeldFootageMm: 4, atUs: 60_000 }));
    expect(counted.mdAt(30_000)).toEqual({ mdMm: 14_500, uMm: Math.hypot(5, 30), basis: 'counted back from the weld point' });
  });

  test('the unrounded footage of the fold is on the inner wall and not on the outer (found by a property run)', () => {
    const stretched = new LengthModel(aString({ defaultRatio: { record: null, lambda: 1.197, u: 0 } }));
    const atShoe = stretched.shoeAt({ weldFootageMm: 40_009, atUs: 40_009 });
    const foldMm = stretched.innerWall(atShoe).footageRange.fromMm;
    expect(stretched.innerWall(atShoe).mdAt(foldMm).mdMm).toBeCloseTo(atShoe.mdMm, 6);
    expect(() => stretched.outerWall(atShoe).mdAt(foldMm)).toThrow(expect.objectContaining({ code: 'not-on-this-wall' }));
  });

  test('with the shoe at the hang-off there is no wall yet', () => {
    const atHangOff = model.shoeAt({ shoeMdMm: 2_500 });
    expect(model.innerWall(atHangOff).piecesOfFootage({ fromMm: 0, toMm: 90_000 })).toEqual([]);
    expect(model.outerWall(atHangOff).piecesOfFootage({ fromMm: 0, toMm: 90_000 })).toEqual([]);
    expect(innerWallMap(atHangOff).at(2_000)).toBe(2_500);
  });
});
