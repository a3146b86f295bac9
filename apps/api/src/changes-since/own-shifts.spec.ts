import { expect, test } from '@jest/globals';
import { ownShifts } from './own-shifts.js';

const day = (number: number): string => `2026-03-${String(number).padStart(2, '0')}T06:00:00.000000Z`;
const shift = (from: number, to: number | null) => ({ observedAt: day(from), until: to === null ? null : day(to) });

test('the last own shift is the one that ended last, by the instant asked about', () => {
  const shifts = [shift(4, 5), shift(6, 7), shift(2, 3)];
  expect(ownShifts(shifts, day(10))).toEqual({ last: shift(6, 7), withoutEnd: [] });
  expect(ownShifts(shifts, day(7)).last).toEqual(shift(6, 7));
  expect(ownShifts([], day(10))).toEqual({ last: null, withoutEnd: [] });
});

test('a later one without an end, or with one that has not come, is told; an earlier one is past', () => {
  expect(ownShifts([shift(1, null), shift(2, 3), shift(8, null), shift(9, 20)], day(10))).toEqual({ last: shift(2, 3), withoutEnd: [shift(8, null), shift(9, 20)] });
  expect(ownShifts([shift(8, null)], day(10))).toEqual({ last: null, withoutEnd: [shift(8, null)] });
});
