import { expect, test } from '@jest/globals';
import { attendanceFaults } from './attendance.rules.js';

test('an attendance has a place, and a word where it was not accepted', () => {
  type Said = Parameters<typeof attendanceFaults>[0];
  const fields = (said: Partial<Said>): string[] => attendanceFaults({ from: { footageMm: 100 }, to: { footageMm: 200 }, outcome: 'accepted', ...said }).map(({ field }) => field);
  expect(fields({})).toEqual([]);
  expect(fields({ to: null, outcome: 'not-accepted', note: 'Bead not trimmed' })).toEqual([]);
  expect(fields({ to: { footageMm: 100 }, outcome: 'not-accepted' })).toEqual(['to', 'note']);
});
