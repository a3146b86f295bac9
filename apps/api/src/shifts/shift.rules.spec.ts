import { describe, expect, test } from '@jest/globals';
import { isWithin, overlap, shiftFaults, shiftFindings } from './shift.rules.js';

const hour = (clock: number): string => `2026-03-02T${String(clock).padStart(2, '0')}:00:00.000000Z`;
const shift = (from: number, to: number | null, ...people: string[]) => ({
  name: `from ${from}`, observedAt: hour(from), until: to === null ? null : hour(to), crew: people.map((personId) => ({ personId, duty: 'operator' })),
});

describe('two shifts overlap', () => {
  /** By hours: both are on at some hour of the day, which ends at 24 for one that runs. */
  const byHours = (one: readonly [number, number | null], other: readonly [number, number | null]): boolean =>
    Array.from({ length: 24 }, (_, at) => at).some((at) => [one, other].every(([from, to]) => at >= from && at < (to ?? 24)));

  test('exactly when there is an hour that both have', () => {
    const ends: (number | null)[] = [2, 3, 5, 9, null];
    const all = [1, 2, 3, 5].flatMap((from) => ends.filter((to) => to === null || to > from).map((to) => [from, to] as const));
    for (const one of all) {
      for (const other of all) expect([one, other, overlap(shift(...one), shift(...other))]).toEqual([one, other, byHours(one, other)]);
    }
  });
});

test('an instant is in a shift from its beginning to before its end, and in one that runs for good', () => {
  expect([5, 6, 13, 14].map((clock) => isWithin(hour(clock), shift(6, 14)))).toEqual([false, true, true, false]);
  expect([5, 6, 23].map((clock) => isWithin(hour(clock), shift(6, null)))).toEqual([false, true, true]);
});

test('a shift that ends when it begins, or before, and a person named twice do not go together', () => {
  expect(shiftFaults(shift(6, 14, 'a', 'b'))).toEqual([]);
  expect(shiftFaults(shift(6, null, 'a'))).toEqual([]);
  expect(shiftFaults(shift(6, 6, 'a', 'b', 'a', 'b', 'c')).map(({ field }) => field)).toEqual(['until', 'crew[2].personId', 'crew[3].personId']);
  expect(shiftFaults(shift(6, 5, 'a')).map(({ field }) => field)).toEqual(['until']);
});

describe('what is asked about', () => {
  const asked = (...args: Parameters<typeof shiftFindings>): unknown[] => shiftFindings(...args).map(({ tier, field, value }) => [tier, field, value]);

  test('is a person who is on another shift at that time, and nobody else', () => {
    const others = [shift(4, 7, 'b'), shift(14, 22, 'a'), shift(13, null, 'c')];
    expect(asked(shift(6, 14, 'a', 'b', 'c', 'd'), others)).toEqual([['implausible', 'crew[1].personId', 'b'], ['implausible', 'crew[2].personId', 'c']]);
    expect(shiftFindings(shift(6, 14, 'b'), others)[0]?.limit).toBe('a person in one shift at a time: also in from 4, 2026-03-02T04:00:00.000000Z to 2026-03-02T07:00:00.000000Z');
  });

  test('is a shift of more than a day, to the microsecond', () => {
    const until = (text: string) => asked({ ...shift(6, null), until: text }, []);
    expect(until('2026-03-03T06:00:00.000000Z')).toEqual([]);
    expect(until('2026-03-03T06:00:00.000001Z')).toEqual([['implausible', 'until', '2026-03-03T06:00:00.000001Z']]);
  });
});
