import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { provenTogether, type Proof } from './proven-together.js';

const proof = (id: string, fromMm: number, toMm: number, day: number): Proof => ({
  on: IntervalSet.of({ fromMm, toMm }), because: `by ${id}`, records: [{ kind: 'destructive-test', id, version: 1, label: id }], enteredAt: [`2026-03-0${day}T08:00:00.000000Z`],
});
const shown = (proofs: readonly Proof[]): string[] =>
  proofs.map(({ on, records, enteredAt }) => `${on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()} ${records.map(({ id }) => id).join('+')} ${enteredAt.map((at) => at.slice(9, 10)).join()}`);

describe('pipe for which several things are shown', () => {
  test('is that of all of them, with the records of each', () => {
    expect(shown(provenTogether([[proof('a', 0, 100, 1)], [proof('b', 40, 160, 2)]]))).toEqual(['40-100 a+b 1,2']);
    expect(provenTogether([[proof('a', 0, 100, 1)], [proof('b', 40, 160, 2)]])[0]?.because).toBe('by a; by b');
  });

  test('is none where one of them is shown nowhere, and none where nothing is asked for', () => {
    expect(provenTogether([[proof('a', 0, 100, 1)], []])).toEqual([]);
    expect(provenTogether([[proof('a', 0, 100, 1)], [proof('b', 100, 200, 1)]])).toEqual([]);
    expect(provenTogether([])).toEqual([]);
  });

  test('goes by the proof that was there first: a later one of the same pipe makes nothing late', () => {
    expect(shown(provenTogether([[proof('late', 0, 100, 5), proof('early', 0, 60, 1)]]))).toEqual(['0-60 early 1', '60-100 late 5']);
  });

  test('names a record once that shows several of them', () => {
    expect(shown(provenTogether([[proof('a', 0, 100, 1)], [proof('a', 0, 100, 1)]]))).toEqual(['0-100 a 1,1']);
  });
});
