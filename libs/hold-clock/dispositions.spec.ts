import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { LengthModel } from '#libs/length';
import { aString } from '../../test/fixtures/string-lengths.js';
import { feasibleDispositions } from './dispositions.js';
import { LineMoment } from './line-moment.js';

/** 18 m of line; 100 m made at 100,000 µs; footage 2 m hangs, and the shoe is where 41 m below it turn: 2 to 42 m outside, 42 to 82 m inside. */
const moment = new LineMoment(new LengthModel(aString()), {
  id: 's', stations: [{ name: 'splice', role: null, path: { minMm: -10_000, maxMm: -10_000, uMm: 0 } }, { name: 'hang-off', role: 'hang-off', path: { minMm: 18_000, maxMm: 18_000, uMm: 0 } }],
}, 100_000);

const kinds = (fromMm: number, toMm: number): string[] => {
  const parts = moment.partsOf(IntervalSet.of({ fromMm, toMm }));
  return feasibleDispositions(moment, parts).map(({ kind, provided }) => (provided === null ? kind : `${kind}?`));
};

const STRIP = ['further-inspection', 'rework', 'reject', 'return-to-supplier', 'use-as-is-under-concession', 'regrade'];
const LINE = ['further-inspection', 'rework', 'repair', 'reject', 'use-as-is-under-concession', 'regrade'];
const INNER = ['further-inspection?', 'repair?', 'reject?', 'use-as-is-under-concession', 'regrade', 'repair'];
const OUTER = ['use-as-is-under-concession', 'regrade', 'repair'];

describe('what can still be done', () => {
  test('is less the further the pipe went', () => {
    expect(moment.partsOf(IntervalSet.of({ fromMm: 0, toMm: 200_000 })).map(({ where, toMm }) => [where, toMm])).toEqual([
      ['lead-end', 2_000], ['outer-wall', 42_000], ['inner-wall', 82_000], ['on-the-line', 100_000], ['strip', 110_000], ['not-made', 200_000],
    ]);
    expect([kinds(150_000, 150_100), kinds(105_000, 105_100), kinds(90_000, 90_100), kinds(60_000, 60_100), kinds(10_000, 10_100)]).toEqual([STRIP, STRIP, LINE, INNER, OUTER]);
    expect(kinds(500, 600)).toEqual(['further-inspection', 'reject', 'use-as-is-under-concession', 'regrade']);
  });

  test('to a place of several parts is what the one that went furthest allows', () => {
    expect([kinds(99_000, 105_000), kinds(60_000, 99_000), kinds(10_000, 99_000)]).toEqual([LINE, INNER, OUTER]);
  });

  test('to the inner wall names how much would have to be withdrawn, which the project has to have proven', () => {
    const [first] = feasibleDispositions(moment, moment.partsOf(IntervalSet.of({ fromMm: 60_000, toMm: 60_100 })));
    expect(first).toMatchObject({ kind: 'further-inspection', provided: 'the project has proven that 22.000 m of inner pipe can be withdrawn to the line' });
  });

  test('is nothing where the pipe was cut out, or where nobody knows where it is', () => {
    const nowhere = new LineMoment(new LengthModel(aString({ weldFootage: [] })), null, 100_000);
    expect(feasibleDispositions(nowhere, nowhere.partsOf(IntervalSet.of({ fromMm: 5, toMm: 6 })))).toEqual([]);
    expect(feasibleDispositions(moment, [{ fromMm: 5, toMm: 6, where: 'cut-out' }])).toEqual([]);
  });
});
