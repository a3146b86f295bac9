import { describe, expect, test } from '@jest/globals';
import { aHangOff, aString, aTie } from '../../test/fixtures/string-lengths.js';
import { LengthModel } from './length-model.js';

const ratio09 = { record: null, lambda: 0.9, u: 0 };

describe('the shoe', () => {
  test('given its depth, is the material that the outer map puts there, whatever the counter says', () => {
    const model = new LengthModel(aString({ defaultRatio: ratio09, weldFootage: [] }));
    const shoe = model.shoeAt({ shoeMdMm: 11_500 });
    expect(shoe).toMatchObject({ mdMm: 11_500, netMm: 12_000, depthBelowHangOffMm: 9_000, counted: null, uMdMm: 0 });
  });

  test('given the footage, splits the pipe below the hang-off into D/λ and D', () => {
    const model = new LengthModel(aString({ defaultRatio: ratio09 }));
    // 19 000 mm of pipe below the hang-off: 10 000 became 9 000 of outer wall, 9 000 hang as inner wall.
    const shoe = model.shoeAt({ weldFootageMm: 2_000 + 18_000 + 19_000, atUs: 39_000 });
    expect(shoe.depthBelowHangOffMm).toBeCloseTo(9_000, 9);
    expect(shoe.netMm).toBeCloseTo(12_000, 9);
  });

  test('follows the ties where they say otherwise than the default ratio', () => {
    const model = new LengthModel(aString({ defaultRatio: ratio09, shoeTies: [aTie(60_000, 60_000, 22_500)] }));
    expect(model.shoeAt({ weldFootageMm: 60_000, atUs: 60_000 })).toMatchObject({ mdMm: 22_500, netMm: 22_000, basis: 'between ties' });
    expect(model.shoeAt({ weldFootageMm: 79_000, atUs: 79_000 }).mdMm).toBeCloseTo(22_500 + 9_000, 9);
  });

  test('at a time, takes over the doubt of the footage between readings', () => {
    const model = new LengthModel(aString());
    const shoe = model.shoeAtTime(40_000);
    expect(shoe.mdMm).toBe(12_500);
    expect(shoe.uMdMm).toBeCloseTo(1_000_000 / Math.sqrt(12) / 2, 6);
  });

  test('a little above the hang-off, within k = 2, is at the hang-off; further above is refused', () => {
    const model = new LengthModel(aString({ hangOff: aHangOff({ uFootageMm: 10 }) }));
    expect(model.shoeAt({ weldFootageMm: 19_980, atUs: 20_000 }).depthBelowHangOffMm).toBe(0);
    expect(() => model.shoeAt({ weldFootageMm: 19_979, atUs: 20_000 })).toThrow(expect.objectContaining({ code: 'above-the-hang-off' }));
    expect(() => model.shoeAt({ shoeMdMm: 2_499 })).toThrow(expect.objectContaining({ code: 'above-the-hang-off' }));
  });

  test('given its depth, passes the outer map’s doubt on to the inner wall, divided by λ', () => {
    const model = new LengthModel(aString({ defaultRatio: ratio09, hangOff: aHangOff({ uMdMm: 9 }) }));
    expect(model.shoeAt({ shoeMdMm: 11_500 }).spread).toEqual({ fixedMm: 10, countedFromNetMm: 12_000 });
  });
});
