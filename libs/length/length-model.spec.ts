import { describe, expect, test } from '@jest/globals';
import { aCutOut, aHangOff, aString, aTie, recordRef } from '../../test/fixtures/string-lengths.js';
import { LengthModel } from './length-model.js';

describe('the length model refuses', () => {
  const question = { weldFootageMm: 60_000, atUs: 60_000 };

  test.each([
    ['a shoe without a hang-off', aString({ hangOff: null }), 'no-hang-off'],
    ['a time before the hang-off', aString({ hangOff: aHangOff({ atUs: 60_001 }) }), 'before-the-hang-off'],
    ['a time without a path distance to the hang-off', aString({ hangOffPath: [] }), 'no-hang-off-path'],
    [
      'a time before the first line set-up',
      aString({ hangOffPath: [{ record: recordRef('line-set-up', 'late'), validFromUs: 60_001, pathMm: 1, uPathMm: 0 }] }),
      'no-hang-off-path',
    ],
  ])('%s', (_, lengths, code) => {
    expect(() => new LengthModel(lengths).shoeAt(question)).toThrow(expect.objectContaining({ name: 'LengthError', code }));
  });

  test('a depth question at a time before the hang-off', () => {
    expect(() => new LengthModel(aString()).shoeAt({ shoeMdMm: 9_000, atUs: 19_999 })).toThrow(expect.objectContaining({ code: 'before-the-hang-off' }));
  });

  test('a place without readings, or before the first', () => {
    expect(() => new LengthModel(aString({ weldFootage: [] })).placeOf(1, 1)).toThrow(expect.objectContaining({ code: 'no-readings' }));
    expect(() => new LengthModel(aString()).placeOf(1, -1)).toThrow(expect.objectContaining({ code: 'before-the-first-reading' }));
  });

  test('a length ratio that is not positive', () => {
    expect(() => new LengthModel(aString({ defaultRatio: { record: null, lambda: 0, u: 0 } }))).toThrow(expect.objectContaining({ code: 'bad-input' }));
  });
});

describe('the place of a metre', () => {
  const model = new LengthModel(aString({ cutOuts: [aCutOut(30_000, 31_000, 45_000)] }));
  const stations = [
    { name: 'weld point', path: { minMm: 0, maxMm: 0, uMm: 0 } },
    { name: 'array', path: { minMm: 9_000, maxMm: 9_000, uMm: 5 } },
    { name: 'bead roll', path: { minMm: 6_000, maxMm: 8_000, uMm: 5 } },
  ];

  test('with 61,000 mm made and 1,000 cut out, shoe 20,000 below the hang-off', () => {
    const places = [61_000, 30_500, 44_000, 42_999, 23_000, 22_000, 21_999, 2_000, 1_999].map((p) => model.placeOf(p, 61_000));
    expect(places.map(({ place }) => place)).toEqual([
      'not-yet-made', 'cut-out', 'on-the-line', 'inner-wall', 'inner-wall', 'inner-wall', 'outer-wall', 'outer-wall', 'lead-end',
    ]);
    expect(places[3]).toMatchObject({ mdMm: 2_501 });
    expect(places[8]).toEqual({ place: 'lead-end', aboveHangOffMm: 1 });
  });

  test('names the cut-out, and the metre is on the line until it is cut', () => {
    expect(model.placeOf(30_500, 45_000)).toEqual({ place: 'cut-out', record: recordRef('cut-out', 'cut-30000') });
    expect(model.placeOf(30_500, 44_999).place).toBe('on-the-line');
  });

  test('gives the way to each station still ahead, nearest first', () => {
    expect(model.placeOf(55_000, 61_000, stations)).toEqual({
      place: 'on-the-line',
      pathMm: 6_000,
      toStations: [
        { name: 'bead roll', bestMm: 1_000, minMm: 0, maxMm: 2_000, uMm: 5 },
        { name: 'array', bestMm: 3_000, minMm: 3_000, maxMm: 3_000, uMm: 5 },
      ],
    });
  });

  test('before the hang-off, pipe past it is lead end; without a path distance all pipe is on the line', () => {
    expect([0, 1_999, 2_000].map((p) => model.placeOf(p, 19_999).place)).toEqual(['lead-end', 'on-the-line', 'on-the-line']);
    expect(new LengthModel(aString({ hangOff: null, hangOffPath: [] })).placeOf(0, 90_000)).toMatchObject({ place: 'on-the-line', pathMm: 90_000 });
  });

  test('after a reversal, pipe made is upstream of the weld point and stays made', () => {
    const reversed = [0, 50_000, 49_000].map((footageMm, index) => ({ record: recordRef('reading', `${index}`), atUs: index * 50_000, footageMm, readIn: null }));
    const backedUp = new LengthModel(aString({ weldFootage: reversed }));
    expect(backedUp.placeOf(49_500, 100_000)).toMatchObject({ place: 'on-the-line', pathMm: -500 });
    expect(backedUp.placeOf(50_000, 100_000)).toEqual({ place: 'not-yet-made', toMakeMm: 0 });
  });

  test('can be asked with the shoe where a log saw it', () => {
    const logged = model.shoeAt({ shoeMdMm: 30_000 });
    expect(model.placeOf(25_000, 61_000, [], logged)).toMatchObject({ place: 'outer-wall', mdMm: 25_500 });
    expect(model.placeOf(25_000, 61_000)).toMatchObject({ place: 'inner-wall', mdMm: 19_500 });
  });
  test('at a time before a cut-out does not know it yet, with a shoe given without a time as well', () => {
    const cutLater = new LengthModel(aString({ cutOuts: [aCutOut(45_000, 46_000, 70_000)] }));
    const logged = cutLater.shoeAt({ shoeMdMm: 30_000 });
    const mdAt = (footageMm: number, atUs: number) => cutLater.placeOf(footageMm, atUs, [], logged);
    expect(mdAt(45_500, 61_000)).toMatchObject({ place: 'inner-wall', mdMm: 14_000 });
    expect(mdAt(46_500, 61_000)).toMatchObject({ place: 'inner-wall', mdMm: 13_000 });
    expect(mdAt(46_500, 70_000)).toMatchObject({ place: 'inner-wall', mdMm: 14_000 });
  });
});

describe('the model also answers', () => {
  test('which material is at a station', () => {
    expect(new LengthModel(aString()).materialAt(3_000, 50_000).bestMm).toBe(47_000);
  });

  test('how thick the outer wall is, by the local ratio: only where κ is known', () => {
    const model = new LengthModel(aString({ kappa: 1.16, shoeTies: [aTie(60_000, 60_000, 20_500)] }));
    // D = 18 000 of outer wall from 22 000 mm of pipe.
    expect(model.outerThicknessMm(10_000, 6)).toBeCloseTo(6 / (1.16 * (18 / 22)), 9);
    expect(new LengthModel(aString()).outerThicknessMm(10_000, 6)).toBeNull();
  });
});
