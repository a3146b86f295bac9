import { expect, test } from '@jest/globals';
import { siteClock, siteMoment } from './site-time.js';

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

test('a clock of a site says the same for every quarter of an hour of the days around a change of its offset', () => {
  for (const zone of ['Europe/Oslo', 'America/St_Johns', 'Australia/Lord_Howe', 'UTC']) {
    const clock = siteClock(zone);
    for (const from of ['2026-03-07', '2026-03-28', '2026-04-04', '2026-10-03', '2026-10-24', '2026-10-31']) {
      const instants = Array.from({ length: 3 * 24 * 4 }, (_, index) => new Date(Date.parse(`${from}T00:00:00Z`) + index * 900_000).toISOString());
      expect(instants.map(clock)).toEqual(instants.map((instant) => siteMoment(zone, instant)));
    }
  }
});
