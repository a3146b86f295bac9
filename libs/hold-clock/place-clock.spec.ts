import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { LengthModel } from '#libs/length';
import { aCutOut, aString, recordRef } from '../../test/fixtures/string-lengths.js';
import { LineMoment } from './line-moment.js';
import { placeClock, type PlaceClock } from './place-clock.js';

const S = 1e6;
const stations = [{ name: 'gauge', role: null, path: { minMm: 6_000, maxMm: 6_000, uMm: 0 } }, { name: 'hang-off', role: 'hang-off', path: { minMm: 30_000, maxMm: 30_000, uMm: 0 } }] as const;

/** 100 m made at 600 s; a step of 5 s at each of these m/min before it. */
function moment(speeds: readonly number[], ageS = 0): LineMoment {
  let footageMm = 100_000;
  const readings = [{ atUs: 600 * S, footageMm }];
  for (const [index, speed] of [...speeds].reverse().entries()) readings.unshift({ atUs: (600 - 5 * (index + 1)) * S, footageMm: (footageMm -= (speed * 1000) / 12) });
  const lengths = new LengthModel(aString({
    hangOff: null, hangOffPath: [{ record: recordRef('line-setup', 's'), validFromUs: 0, pathMm: 30_000, uPathMm: 0 }], cutOuts: [aCutOut(50_000, 51_000, 0)], weldFootage: readings.map((one, index) => ({ ...one, record: recordRef('counter-reading', `r${index}`), readIn: null })),
  }));
  return new LineMoment(lengths, { id: 's', stations }, (600 + ageS) * S);
}

const clock = (at: LineMoment, fromMm: number, toMm: number): PlaceClock => placeClock(at, IntervalSet.of({ fromMm, toMm }), 0);

describe('metres and minutes', () => {
  test('at 6 m/min now, 4.8 to 7.2 lately: 24 m are 4 minutes, 3.33 to 5', () => {
    const now = moment([4.8, 7.2, 6, 6, 6, 6, 6, 6]);
    const { state, hangOff, stations: ahead, where } = clock(now, 94_000, 94_100);
    expect({ state, where }).toEqual({ state: 'running-out', where: 'on-the-line' });
    expect(hangOff).toEqual({ leftMm: 24_000, plusMinusMm: 0, minutes: { least: expect.closeTo(24 / 7.2, 9), central: expect.closeTo(4, 9), greatest: expect.closeTo(5, 9) } });
    expect(ahead.map(({ name, role }) => [name, role])).toEqual([['hang-off', 'hang-off']]);
    expect(now.pace).toMatchObject({ readings: 9, overUs: 40 * S });
  });

  test('of strip begin with the weld point, where it can be cut out and spliced no longer', () => {
    expect(clock(moment([6, 6, 6, 6, 6, 6]), 103_000, 103_100).stations.map(({ name, role, leftMm }) => [name, role, leftMm])).toEqual([
      ['weld point', 'weld-point', 3_000], ['gauge', null, 9_000], ['hang-off', 'hang-off', 33_000],
    ]);
  });

  test('a minute later are less by what may have run, and never less than none', () => {
    const { hangOff, takenOffMm } = clock(moment([4.8, 7.2, 6, 6, 6, 6, 6, 6], 60), 94_000, 94_100);
    expect(takenOffMm).toBeCloseTo(6_000, 6);
    expect(hangOff).toMatchObject({ leftMm: expect.closeTo(18_000, 6), minutes: { least: expect.closeTo(24 / 7.2 - 1, 9), central: expect.closeTo(3, 9), greatest: expect.closeTo(4, 9) } });
    expect(clock(moment([6, 6, 6, 6, 6, 6], 500), 94_000, 94_100).hangOff).toEqual({ leftMm: 0, plusMinusMm: 0, minutes: { least: 0, central: 0, greatest: 0 } });
  });

  test('of a line that stands are the least there would be if it went on as fast as lately', () => {
    const { state, hangOff } = clock(moment([12, 0, 0, 0, 0, 0, 0]), 94_000, 94_100);
    expect({ state, minutes: hangOff?.minutes }).toEqual({ state: 'standing', minutes: { least: expect.closeTo(2, 9), central: null, greatest: null } });
  });
});

describe('a place of which a part is past the hang-off', () => {
  test('is passing: there is nothing left for its first end, and it says how much is not past', () => {
    const passing = clock(moment([6, 6, 6, 6, 6, 6]), 60_000, 80_000);
    expect(passing).toMatchObject({ state: 'passing', where: 'on-the-line', hangOff: { leftMm: 0 }, because: 'at the hang-off: 10.000 m of it are not past' });
    expect(clock(moment([6, 6]), 60_000, 69_000)).toEqual({
      state: 'past-the-hang-off', where: 'lead-end', parts: [{ where: 'lead-end', fromMm: 60_000, toMm: 69_000 }], nextMm: null, hangOff: { leftMm: 0, plusMinusMm: 0, minutes: null }, stations: [],
      takenOffMm: 0, because: 'past the hang-off',
    });
  });

  test('lies in the parts that are told, what was cut out among them', () => {
    expect(clock(moment([6, 6]), 50_000, 51_000)).toMatchObject({ state: 'cut-out', where: 'cut-out', hangOff: null });
    expect(clock(moment([6, 6]), 49_000, 100_100).parts).toEqual([
      { where: 'lead-end', fromMm: 49_000, toMm: 50_000 }, { where: 'cut-out', fromMm: 50_000, toMm: 51_000 }, { where: 'lead-end', fromMm: 51_000, toMm: 70_000 },
      { where: 'on-the-line', fromMm: 70_000, toMm: 100_000 },
      { where: 'not-made', fromMm: 100_000, toMm: 100_100 },
    ]);
  });
});
