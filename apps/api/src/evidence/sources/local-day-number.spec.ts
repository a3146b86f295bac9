import { expect, test } from '@jest/globals';
import { dayNumber, localDay } from '#libs/validity';
import { localDayNumber } from './local-day-number.js';

test.each([
  ['2026-03-01T23:59:59.999999Z', 0], ['2026-03-02T00:00:00.000000Z', 0], ['2026-03-01T22:59:59.999999Z', 60], ['2026-03-01T23:00:00.000000Z', 60],
  ['2026-03-02T04:59:59.000000Z', -300], ['2026-03-02T05:00:00.000000Z', -300], ['2026-03-01T18:29:59.000000Z', 330], ['2026-03-01T18:30:00.000000Z', 330],
])('the day at %s, %d minutes ahead, is the one that localDay names', (instant, offsetMinutes) => {
  expect(localDayNumber({ instant, offsetMinutes })).toBe(dayNumber(localDay({ instant, offsetMinutes })));
});
