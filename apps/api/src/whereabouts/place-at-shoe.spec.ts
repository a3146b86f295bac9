import { describe, expect, test } from '@jest/globals';
import { LengthModel } from '#libs/length';
import { aCutOut, aString } from '../../../../test/fixtures/string-lengths.js';
import { placeAtShoe, weldAtShoe } from './place-at-shoe.js';

const stations = [{ name: 'hang-off', role: 'hang-off' as const, path: { minMm: 18_000, maxMm: 18_000, uMm: 4 } }];
const ratios = [1, 0.97].map((lambda) => ({
  lambda,
  lengths: new LengthModel(aString({ cutOuts: [aCutOut(30_000, 31_000, 40_000)], defaultRatio: { record: null, lambda, u: 0 } })),
}));

describe.each(ratios)('ratio $lambda', ({ lengths }) => {
  test('the place at a shoe depth is the place at the time that had the shoe there', () => {
    const atUs = 130_000;
    const shoe = lengths.shoeAt({ shoeMdMm: lengths.shoeAtTime(atUs).mdMm });
    expect(weldAtShoe(lengths, shoe).netMm).toBeCloseTo(129_000, 6);
    for (let footageMm = 500; footageMm < 140_000; footageMm += 500) {
      const [then, here] = [lengths.placeOf(footageMm, atUs), placeAtShoe(lengths, footageMm, shoe, stations)];
      // At the weld point itself rounding decides.
      if (footageMm !== atUs) expect([footageMm, here.place]).toEqual([footageMm, then.place]);
    }
  });

  test('on the line, what is ahead', () => {
    const shoe = lengths.shoeAt({ shoeMdMm: lengths.shoeAtTime(130_000).mdMm });
    const place = placeAtShoe(lengths, 125_000, shoe, stations);
    expect(place).toMatchObject({ place: 'on-the-line', toStations: [{ name: 'hang-off', uMm: 4 }] });
    expect(place.place === 'on-the-line' && place.toStations[0]?.bestMm).toBeCloseTo(13_000, 6);
  });
});
