import { expect, test } from '@jest/globals';
import { siteMoment } from './site-time.js';

test.each([
  ['UTC', '2026-03-01T23:30:00.000000Z', 0],
  ['Etc/GMT-1', '2026-03-01T23:30:00.000000Z', 60],
  ['Etc/GMT+5', '2026-03-01T23:30:00.000000Z', -300],
  ['Asia/Kolkata', '2026-03-01T23:30:00.000000Z', 330],
  // Summer time begins at 01:00 UTC on 29 March 2026 (European Union directive 2000/84/EC: last Sunday of March).
  ['Europe/Berlin', '2026-03-29T00:59:59.999999Z', 60],
  ['Europe/Berlin', '2026-03-29T01:00:00.000000Z', 120],
])('in %s at %s the local time is %d minutes ahead', (timeZone, instant, offsetMinutes) => {
  expect(siteMoment(timeZone, instant)).toEqual({ instant, offsetMinutes });
});
