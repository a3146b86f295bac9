import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { LengthModel, type Shoe } from '#libs/length';
import { aCutOut, aHangOff, aString, recordRef } from '../../../../test/fixtures/string-lengths.js';
import { placesOfFootage, type PlaceName } from './places-of-footage.js';

const WHOLE = IntervalSet.of({ fromMm: 0, toMm: 400_000 });
const cutOuts = [aCutOut(0, 400, 30_000), aCutOut(50_000, 51_000, 60_000), aCutOut(120_300, 120_900, 130_000)];

const strings: [string, LengthModel][] = [
  ['ratio 1', new LengthModel(aString({ cutOuts }))],
  ['ratio 0.97', new LengthModel(aString({ cutOuts, defaultRatio: { record: null, lambda: 0.97, u: 0 } }))],
  ['not hung off', new LengthModel(aString({ cutOuts, hangOff: null }))],
  ['backed up by 7 m', new LengthModel(aString({
    cutOuts,
    weldFootage: [[0, 0], [150_000, 150_000.5], [157_000, 143_000.25], [1_000_000, 900_000]].map(([atUs, footageMm]) => ({
      record: recordRef('reading', `reading-${atUs ?? 0}`), atUs: atUs ?? 0, footageMm: footageMm ?? 0, readIn: null,
    })),
  }))],
];
const times = [10_000, 25_000, 45_000, 60_000, 140_001, 157_000];

function shoeAt(lengths: LengthModel, atUs: number): Shoe | null {
  const { hangOff } = lengths.lengths;
  return hangOff === null || atUs < hangOff.atUs ? null : lengths.shoeAtTime(atUs);
}

describe.each(strings)('%s', (_, lengths) => {
  test.each(times)('at %i µs: a partition, with the place that placeOf gives every metre and every boundary', (atUs) => {
    const places = placesOfFootage(WHOLE, lengths, atUs, shoeAt(lengths, atUs));
    const sets = Object.entries(places) as [PlaceName, IntervalSet][];
    expect(sets.reduce((sum, [, set]) => sum + set.totalLengthMm, 0)).toBe(WHOLE.totalLengthMm);
    const ends = sets.flatMap(([, set]) => set.intervals.flatMap(({ fromMm, toMm }) => [fromMm, toMm - 1]));
    const asked = [...ends, ...Array.from({ length: 400 }, (_unused, metre) => metre * 997)];
    const here = asked.map((footageMm) => [footageMm, ...sets.filter(([, set]) => set.contains(footageMm)).map(([name]) => name)]);
    expect(here).toEqual(asked.map((footageMm) => [footageMm, lengths.placeOf(footageMm, atUs).place]));
  });
});

test('only what is asked for is placed', () => {
  const lengths = new LengthModel(aString({ hangOff: aHangOff(), cutOuts }));
  const asked = IntervalSet.of({ fromMm: 49_000, toMm: 52_000 });
  const places = placesOfFootage(asked, lengths, 60_000, lengths.shoeAtTime(60_000));
  expect(places['cut-out'].intervals).toEqual([{ fromMm: 50_000, toMm: 51_000 }]);
  expect(places['on-the-line'].totalLengthMm + places['inner-wall'].totalLengthMm + places['outer-wall'].totalLengthMm).toBe(2000);
});
