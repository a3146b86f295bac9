import { expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { isSameTestimony, testimonies, type RecordTestimony, type Word } from './record-testimony.js';

const word = (...enteredAt: readonly string[]): Word => ({ says: 'confirmed', because: 'looked at', records: [{ kind: 'weld', id: 'w', version: 2, label: 'W' }], enteredAt });
const onTimeFrom = (instant: string): number => Number(instant.slice(11, 13)) * 1000;

test('a word is on each interval of its pipe, and complete with the last of its records', () => {
  const early = '2026-03-02T07:00:00.000002Z';
  const [first, second] = testimonies(IntervalSet.from([{ fromMm: 0, toMm: 5 }, { fromMm: 9, toMm: 10 }]), word('2026-03-02T06:00:00.000000Z', early, '2026-03-02T07:00:00.000001Z'), onTimeFrom);
  expect(first).toEqual({ fromMm: 0, toMm: 5, says: 'confirmed', because: 'looked at', records: [{ kind: 'weld', id: 'w', version: 2, label: 'W' }], onTimeFromMm: 7000, enteredAt: early, saidAt: early });
  expect(second).toEqual({ ...first, fromMm: 9, toMm: 10 });
});

test('a word that nothing was entered for is never late, and one on no pipe is none', () => {
  expect(testimonies({ fromMm: 3, toMm: 5 }, word(), onTimeFrom)).toMatchObject([{ fromMm: 3, toMm: 5, onTimeFromMm: 0, enteredAt: null }]);
  expect(testimonies(IntervalSet.empty, word('2026-03-02T07:00:00Z'), onTimeFrom)).toEqual([]);
});

test('two testimonies are the same only where each part of them is', () => {
  const link = { kind: 'weld', id: 'w', version: 2, label: 'W' };
  const one = (changes: Partial<RecordTestimony> = {}): RecordTestimony =>
    ({ fromMm: 0, toMm: 5, says: 'confirmed', because: 'looked at', records: [{ ...link }], onTimeFromMm: 7, enteredAt: 'e', saidAt: 's', ...changes });
  expect(isSameTestimony(one(), one())).toBe(true);
  const others: Partial<RecordTestimony>[] = [
    { fromMm: 1 }, { toMm: 6 }, { says: 'suspect' }, { because: 'seen' }, { onTimeFromMm: 8 }, { enteredAt: null }, { saidAt: null }, { records: [] }, { records: [link, link] },
    ...[{ kind: 'repair' }, { id: 'v' }, { version: 3 }, { label: 'V' }].map((changes) => ({ records: [{ ...link, ...changes }] })),
  ];
  for (const changes of others) expect([changes, isSameTestimony(one(), one(changes)), isSameTestimony(one(changes), one())]).toEqual([changes, false, false]);
});
