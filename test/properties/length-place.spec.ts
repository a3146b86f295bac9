import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { LengthModel, type CutOut, type Place } from '#libs/length';
import { aCutOut, aHangOff, aString, recordRef } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { hungStringArbitrary } from './length.arbitraries.js';
import { walkToPlace, type WalkedString } from './length.reference.js';

const LAST_FOOTAGE_MM = 50;

/** A string of some fifty millimetres, hung off when 5 + path mm were made, with up to two cut-outs made on the line. */
const tinyStringArbitrary: fc.Arbitrary<WalkedString> = fc
  .record({
    pathMm: fc.integer({ min: 4, max: 12 }),
    cuts: fc.array(fc.record({ gapMm: fc.integer({ min: 0, max: 12 }), lengthMm: fc.integer({ min: 1, max: 3 }) }), { maxLength: 2 }),
  })
  .map(({ pathMm, cuts }) => {
    let footageMm = 6;
    const cutOuts: CutOut[] = cuts.map(({ gapMm, lengthMm }) => {
      const fromMm = footageMm + gapMm;
      footageMm = fromMm + lengthMm;
      return aCutOut(fromMm, footageMm, footageMm + 1);
    });
    return { cutOuts, hangOffFootageMm: 5, hangOffMdMm: 100, hangOffUs: 5 + pathMm, pathMm };
  });

function tinyModel({ cutOuts, hangOffFootageMm, hangOffMdMm, hangOffUs, pathMm }: WalkedString): LengthModel {
  return new LengthModel(
    aString({
      cutOuts,
      hangOff: aHangOff({ footageMm: hangOffFootageMm, mdMm: hangOffMdMm, atUs: hangOffUs }),
      hangOffPath: [{ record: recordRef('line-set-up', 'set-up'), validFromUs: 0, pathMm, uPathMm: 0 }],
    }),
  );
}

function inShort(place: Place) {
  return {
    place: place.place,
    ...('mdMm' in place && { mdMm: place.mdMm }),
    ...('pathMm' in place && { pathMm: place.pathMm }),
  };
}

describe('where is this metre', () => {
  test('agrees with walking the pipe millimetre by millimetre, for every footage at every time (ratio 1)', () => {
    let compared = 0;
    const footages = Array.from({ length: LAST_FOOTAGE_MM + 3 }, (_, footageMm) => footageMm);
    fc.assert(
      fc.property(tinyStringArbitrary, (string) => {
        const model = tinyModel(string);
        for (let atUs = 1; atUs <= LAST_FOOTAGE_MM; atUs += 1) {
          const walked = footages.map((footageMm) => walkToPlace(string, footageMm, atUs, atUs));
          const answered = footages.filter((_, index) => walked[index] !== null);
          const expected = walked.filter((place) => place !== null);
          expect(answered.map((footageMm) => inShort(model.placeOf(footageMm, atUs)))).toEqual(expected);
          compared += expected.length;
        }
      }),
      { ...seedFromEnvironment(), numRuns: 25 },
    );
    expect(compared).toBeGreaterThan(25 * LAST_FOOTAGE_MM);
  });

  test('is one place, and the one whose own range holds the footage, with ties, cut-outs and any ratio', () => {
    fc.assert(
      fc.property(hungStringArbitrary(), fc.integer({ min: 0, max: 600_000 }), ({ model, weldFootageMm }, footageMm) => {
        const shoe = model.shoeAtTime(weldFootageMm);
        const holds = (range: { fromMm: number; toMm: number }) => range.fromMm <= footageMm && footageMm < range.toMm;
        const isCut = model.nets.removedBy(weldFootageMm).contains(footageMm);
        const outer = model.outerWall(shoe).footageRange;
        const inner = model.innerWall(shoe).footageRange;
        const claims = {
          'cut-out': isCut,
          'lead-end': !isCut && footageMm < outer.fromMm,
          'outer-wall': !isCut && holds(outer),
          'inner-wall': !isCut && holds(inner),
          'on-the-line': !isCut && inner.toMm <= footageMm && footageMm < weldFootageMm,
          'not-yet-made': !isCut && footageMm >= weldFootageMm,
        };
        const claimed = Object.entries(claims).filter(([, isClaimed]) => isClaimed).map(([place]) => place);
        expect(claimed).toEqual([model.placeOf(footageMm, weldFootageMm).place]);
      }),
      seedFromEnvironment(),
    );
  });
});
