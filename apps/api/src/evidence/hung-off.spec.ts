import { describe, expect, test } from '@jest/globals';
import { NetLengths, type CutOut } from '#libs/length';
import { instantOf } from '#libs/persistence';
import { aCutOut } from '../../../../test/fixtures/string-lengths.js';
import { LineKnowledge, type TimedSetup } from '../line/line-knowledge.js';
import { hungOff } from './hung-off.js';

/** A line whose clock is in microseconds; the way to the hang-off is as long as said, from an instant on. */
function passed(readings: readonly (readonly [atUs: number, mm: number])[], setups: readonly (readonly [atUs: number, minMm: number, maxMm: number])[], cutOuts: readonly CutOut[] = []): (atUs: number) => number {
  const line = new LineKnowledge({
    masterCounter: 'M', cutOuts,
    periods: [{ record: { kind: 'counter-period', id: 'p', version: 1 }, counter: 'M', during: { from: instantOf(0), until: null }, startReading: 0, start: { kind: 'established', footageMm: 0 }, scaleMmPerCount: 1, scaleRelativeU: 0 }],
    setups: setups.map(([atUs, minMm, maxMm]): TimedSetup => ({ id: `from ${atUs}`, validFrom: instantOf(atUs), stations: [{ name: 'table', role: 'hang-off', path: { minMm, maxMm, uMm: 0 } }] })),
  });
  const of = hungOff({ line, lengths: { nets: new NetLengths(cutOuts) }, string: { masterCounter: 'M' }, readings: readings.map(([atUs, mm]) => ({ observedAt: instantOf(atUs), reading: String(mm) })) });
  return (atUs) => of(instantOf(atUs));
}

const SETUP = [0, 18_000, 18_400] as const;

describe('the pipe that had passed the hang-off', () => {
  test('is what is beyond the nearer end of the way there, in between two readings by an even run', () => {
    const at = passed([[0, 0], [100, 50_000], [200, 90_000]], [SETUP]);
    expect([0, 20, 36, 50, 100, 150, 200].map(at)).toEqual([0, 0, 0, 7_000, 32_000, 52_000, 72_000]);
  });

  test('is as far as the last reading says once there is none, and none before the first', () => {
    const at = passed([[50, 40_000], [100, 50_000]], [SETUP]);
    expect([49, 50, 1_000_000].map(at)).toEqual([0, 22_000, 32_000]);
  });

  test('stays passed when the line runs back', () => {
    const at = passed([[0, 0], [100, 50_000], [200, 20_000], [300, 60_000]], [SETUP]);
    expect([100, 150, 200, 250, 290, 300].map(at)).toEqual([32_000, 32_000, 32_000, 32_000, 38_000, 42_000]);
  });

  test('is further up when the hang-off is moved nearer, and is not less when it is moved away', () => {
    const nearer = passed([[0, 0], [100, 50_000], [200, 50_000]], [SETUP, [150, 10_000, 10_000]]);
    expect([100, 149, 150].map(nearer)).toEqual([32_000, 32_000, 40_000]);
    const away = passed([[0, 0], [100, 50_000], [200, 50_000]], [SETUP, [150, 30_000, 30_000]]);
    expect([100, 200].map(away)).toEqual([32_000, 32_000]);
  });

  test('goes around what was cut out on the line', () => {
    // Two metres cut out below the weld point at 100: 18 m of standing pipe reach over 20 m of footage.
    const at = passed([[0, 0], [100, 50_000], [101, 50_000]], [SETUP], [aCutOut(40_000, 42_000, 101)]);
    expect([100, 101].map(at)).toEqual([32_000, 32_000]);
    const after = passed([[0, 0], [100, 50_000], [200, 51_000]], [[150, 18_000, 18_000]], [aCutOut(40_000, 42_000, 101)]);
    expect(after(200)).toBe(31_000);
  });

  test('is none where nothing says where the hang-off is, and where nothing was read', () => {
    expect(passed([[0, 0], [100, 50_000]], [])(100)).toBe(0);
    expect(passed([], [SETUP])(100)).toBe(0);
  });
});
