import { expect, test } from '@jest/globals';
import { compareSums, LengthModel } from '#libs/length';
import { aString, aTie } from '../../../../test/fixtures/string-lengths.js';
import { stripUse } from './strip-use.js';
import { threeSums } from './three-sums.js';

const coil = { id: 'c', version: 1, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 120_000, cropMm: 0, restMm: 0 };
const tie = aTie(120_000, 120_000, 52_500);
const lengths = new LengthModel(aString({ shoeTies: [tie] }));

test('120 m of strip, of pipe made, and in place: 2 + 50 + 50 + 18', () => {
  const { sums, notSummed } = threeSums({ lengths, atUs: 120_000, tie, strip: [stripUse(coil, [], 'here', 120_000)], elongation: { ratio: 1, u: 0 } });
  expect(sums.map(({ name, mm }) => [name, mm])).toEqual([['strip consumed', 120_000], ['pipe made', 120_000], ['pipe in place', 120_000]]);
  expect(notSummed).toEqual([]);
  expect(compareSums(sums).map(({ isExceeded }) => isExceeded)).toEqual([false, false, false]);
});

test('a sum without its records says why', () => {
  const bare = new LengthModel(aString({ weldFootage: [], hangOffPath: [], hangOff: null }));
  const { sums, notSummed } = threeSums({ lengths: bare, atUs: 5, tie, strip: [], elongation: null });
  expect(sums).toEqual([]);
  expect(notSummed.map(({ name, code }) => [name, code])).toEqual([
    ['strip consumed', 'no-segment'], ['pipe made', 'no-readings'], ['pipe in place', 'no-hang-off'],
  ]);
  expect(threeSums({ lengths, atUs: 5, tie: null, strip: [], elongation: null }).notSummed.at(-1)?.code).toBe('no-shoe-tie');
});
