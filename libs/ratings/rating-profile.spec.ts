import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { ratingProfile, tableText, wallRatings, type StretchInputs } from '#libs/ratings';
import { pipeInputs, recordOf } from './rating.factory.js';

const withWall = (fromMm: number, toMm: number, value: string | null, id = `wall ${value ?? ''}`): StretchInputs => ({
  interval: interval(fromMm, toMm),
  inputs: pipeInputs({ wallThicknessMm: value === null ? null : { value, record: recordOf('inspections', id), basis: 'measured minimum' } }),
});

describe('ratings along the pipe', () => {
  test('the weakest pipe, and every record that says so', () => {
    const profile = ratingProfile('inner', IntervalSet.of(interval(0, 3000)), [withWall(2000, 3000, '11.5', 'third'), withWall(0, 1000, '12.0'), withWall(1000, 2000, '11.5', 'second')]);
    expect(profile.intervals.map(({ interval: { fromMm, toMm } }) => [fromMm, toMm])).toEqual([[0, 1000], [1000, 2000], [2000, 3000]]);
    const { weakest, unrated, words } = profile.summary.collapse;
    expect(weakest!.where.toMultirange()).toBe('{[1000,3000)}');
    expect(weakest!.restsOn.map(({ input, value, record }) => [input, value, record!.id])).toEqual([
      ['outsideDiameterMm', '244.48', 'diameter'], ['wallThicknessMm', '11.5', 'second'], ['wallThicknessMm', '11.5', 'third'], ['yieldMpa', '552', 'yield'],
    ]);
    expect(unrated.isEmpty).toBe(true);
    expect(weakest!.pressureMpa).toBe((profile.intervals[1]!.ratings.collapse as { pressureMpa: number }).pressureMpa);
    expect(words).toBe(`collapse of the inner wall: lowest ${weakest!.pressureMpa.toFixed(2)} MPa (${weakest!.tablePsi} psi) at [1000, 3000) mm; all of the pipe is rated. Advisory.`);
  });

  test('pipe that is not rated is told, and never looks strong', () => {
    const profile = ratingProfile('outer', IntervalSet.of(interval(0, 5000)), [withWall(1000, 2000, null), withWall(3000, 4000, '12')]);
    const { weakest, unrated, words } = profile.summary.internalYield;
    expect(unrated.toMultirange()).toBe('{[0,3000),[4000,5000)}');
    expect(weakest!.where.toMultirange()).toBe('{[3000,4000)}');
    expect(words).toContain('4000 mm are not rated and may be weaker');
    expect(profile.intervals.map(({ ratings: { internalYield } }) => (internalYield.kind === 'computed' ? 'computed' : internalYield.because))).toEqual([
      'not computable for the outer wall, because nothing is known of this pipe', 'not computable for the outer wall, because wall thickness of the pipe is not known',
      'not computable for the outer wall, because nothing is known of this pipe', 'computed', 'not computable for the outer wall, because nothing is known of this pipe',
    ]);
    expect(profile.intervals[0]!.ratings.cautions).toContain('The ratings of the two walls do not simply add.');
  });

  test('where nothing can be rated there is no weakest', () => {
    const { summary } = ratingProfile('inner', IntervalSet.of(interval(0, 10)), []);
    expect(summary.collapse).toMatchObject({ weakest: null, words: 'collapse of the inner wall: nothing could be rated' });
    expect(summary.collapse.unrated.toMultirange()).toBe('{[0,10)}');
    expect(ratingProfile('inner', IntervalSet.empty, [withWall(0, 10, '12')]).intervals).toEqual([]);
  });

  test('only the pipe that is asked about counts, in pieces too', () => {
    const question = IntervalSet.of(interval(500, 700), interval(900, 1500));
    const profile = ratingProfile('inner', question, [withWall(0, 1000, '12'), withWall(1000, 2000, '13'), withWall(2000, 3000, '2')]);
    expect(profile.intervals.map(({ interval: { fromMm, toMm } }) => [fromMm, toMm])).toEqual([[500, 700], [900, 1000], [1000, 1500]]);
    expect(profile.summary.internalYield.weakest!.where.toMultirange()).toBe('{[500,700),[900,1000)}');
  });

  test('one kind can be rated where another cannot', () => {
    const mild = { interval: interval(0, 100), inputs: pipeInputs({ yieldMpa: { value: '235', record: null, basis: 'certified' } }) };
    const { summary } = ratingProfile('inner', IntervalSet.of(interval(0, 100)), [mild]);
    expect(summary.internalYield.unrated.isEmpty).toBe(true);
    expect(summary.collapse.weakest).toBeNull();
  });

  test('stretches that overlap are refused, both named', () => {
    expect(() => ratingProfile('inner', IntervalSet.empty, [withWall(999, 2000, '12'), withWall(0, 1000, '12')])).toThrow(new RangeError('stretches overlap: [0, 1000) mm and [999, 2000) mm'));
    expect(() => ratingProfile('inner', IntervalSet.empty, [{ interval: { fromMm: 5, toMm: 5 }, inputs: pipeInputs() }])).toThrow(RangeError);
  });

  test('a table rounds to 10 psi, ties to the even ten, whatever the last bits say', () => {
    expect([14_525, 14_525 + 1e-9, 14_525 - 1e-9, 9955, 14_525.01, 14_524.99, 0].map(tableText)).toEqual(['14520', '14520', '14520', '9960', '14530', '14520', '0']);
    for (const pressure of [-1, Number.NaN, Infinity]) expect(() => tableText(pressure)).toThrow(RangeError);
    expect(wallRatings('inner', pipeInputs()).internalYield).toMatchObject({ tablePsi: '6870' });
  });
});
