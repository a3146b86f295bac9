import { expect, test } from '@jest/globals';
import { holdFaults, holdLabel } from './hold.rules.js';

type Said = Parameters<typeof holdFaults>[0];
const faults = (said: Partial<Said>): [string, unknown][] => holdFaults({ intervals: [], coilIds: [], spliceIds: [], ...said }).map(({ field, value }) => [field, value]);

test('a hold is of pipe, of coils or of splices, whichever', () => {
  for (const said of [{ intervals: [{ from: { footageMm: 5 } }] }, { coilIds: ['a', 'b'] }, { spliceIds: ['a'] }]) expect(faults(said)).toEqual([]);
  expect(faults({})).toEqual([['intervals', []]]);
});

test('an interval the wrong way and one that is nowhere are named with their place in the list; what is held twice too', () => {
  const intervals = [{ from: { footageMm: 5 }, to: { footageMm: 6 } }, { from: { footageMm: 6 }, to: { footageMm: 6 } }, { from: {} }];
  expect(faults({ intervals, coilIds: ['a', 'b', 'a'], spliceIds: ['b', 'b'] })).toEqual([['intervals[1].to', 6], ['intervals[2].from', null], ['coilIds[2]', 'a'], ['spliceIds[1]', 'b']]);
});

test('people call it by its cause', () => {
  expect([holdLabel({ cause: 'Wall below minimum' }), holdLabel({ cause: 'x'.repeat(300) }).length]).toEqual(['Wall below minimum', 200]);
});
