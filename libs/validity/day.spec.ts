import { describe, expect, test } from '@jest/globals';
import { dayNumber, dayText, localDay, monthsLater, normalInstant, offsetText } from '#libs/validity';

describe('days and their numbers', () => {
  test.each([
    ['1970-01-01', 0], ['1969-12-31', -1], ['2000-03-01', 11017], ['2024-02-29', 19782], ['1000-01-01', -354285], ['9999-12-31', 2932896],
  ])('%s is day %i', (day, number) => {
    expect(dayNumber(day)).toBe(number);
    expect(dayText(number)).toBe(day);
  });

  test.each([
    '', '2026-02-29', '1900-02-29', '2026-04-31', '2026-13-01', '2026-00-10', '2026-01-00', '2026-1-1', '0999-12-31', '12026-01-01', '2026-03-31T00:00:00Z',
    ' 2026-03-31', '31.03.2026', '2026-03-31\n',
  ])('%j is no day', (text) => {
    expect(() => dayNumber(text)).toThrow(new RangeError(`not a day: ${JSON.stringify(text)}`));
  });

  test.each([2932897, -354286, 0.5e15, Number.NaN])('day %d is outside the years 1000 to 9999', (number) => {
    expect(() => dayText(number)).toThrow(new RangeError(`not a day of the years 1000 to 9999: day ${number} from 1970-01-01`));
  });
});

describe('months later', () => {
  test.each([
    ['the same day of the month', '2026-01-15', 6, '2026-07-15'],
    ['over the year', '2026-11-30', 2, '2027-01-30'],
    ['the last day of a shorter month', '2026-08-31', 6, '2027-02-28'],
    ['in a leap year', '2027-08-31', 6, '2028-02-29'],
    ['a leap day a year later', '2024-02-29', 12, '2025-02-28'],
    ['a month that is long enough gets no more than the same day', '2026-02-28', 1, '2026-03-28'],
    ['none', '2026-01-31', 0, '2026-01-31'],
    ['ten years', '2020-02-29', 120, '2030-02-28'],
  ])('%s', (_what, day, months, later) => {
    expect(monthsLater(day, months)).toBe(later);
  });

  test.each([-1, 1.5, Number.NaN])('%d months are refused', (months) => {
    expect(() => monthsLater('2026-01-31', months)).toThrow(new RangeError(`not a whole number of months from 0: ${months}`));
  });

  test('beyond the year 9999 there is no day', () => {
    expect(monthsLater('9999-06-30', 6)).toBe('9999-12-30');
    expect(() => monthsLater('9999-07-01', 6)).toThrow(RangeError);
  });
});

describe('the local day of an event', () => {
  test.each([
    ['the last microsecond before local midnight', '2026-03-31T21:59:59.999999Z', 120, '2026-03-31'],
    ['local midnight itself is the next day', '2026-03-31T22:00:00Z', 120, '2026-04-01'],
    ['west of Greenwich the day begins later', '2026-04-01T03:29:59Z', -210, '2026-03-31'],
    ['at UTC-03:30 midnight', '2026-04-01T03:30:00Z', -210, '2026-04-01'],
    ['the furthest offset east', '2026-03-31T10:00:00Z', 840, '2026-04-01'],
    ['the furthest offset west', '2026-04-01T13:59:59Z', -840, '2026-03-31'],
    ['over the year', '2025-12-31T23:30:00Z', 60, '2026-01-01'],
    ['over a leap day', '2028-02-28T23:30:00Z', 60, '2028-02-29'],
  ])('%s', (_what, instant, offsetMinutes, day) => {
    expect(localDay({ instant, offsetMinutes })).toBe(day);
  });

  test.each([841, -841, 0.5, Number.NaN])('an offset of %d is refused', (offsetMinutes) => {
    const error = new RangeError(`not an offset from UTC in whole minutes, -840 to 840: ${offsetMinutes}`);
    expect(() => localDay({ instant: '2026-03-31T12:00:00Z', offsetMinutes })).toThrow(error);
    expect(() => offsetText(offsetMinutes)).toThrow(error);
  });
});

describe('instants', () => {
  test('are spelt with six decimals', () => {
    expect(['2026-03-31T12:00:00Z', '2026-03-31T12:00:00.5Z', '2026-03-31T12:00:00.123456Z'].map(normalInstant)).toEqual([
      '2026-03-31T12:00:00.000000Z', '2026-03-31T12:00:00.500000Z', '2026-03-31T12:00:00.123456Z',
    ]);
  });

  test.each([
    '2026-03-31', '2026-03-31T12:00:00', '2026-03-31T12:00:00+02:00', '2026-03-31T24:00:00Z', '2026-03-31T12:60:00Z', '2026-03-31T12:00:60Z',
    '2026-03-31T12:00Z', '2026-03-31T12:00:00.Z', '2026-03-31T12:00:00.1234567Z', '2026-03-31 12:00:00Z',
  ])('%j is none in UTC', (text) => {
    expect(() => normalInstant(text)).toThrow(new RangeError(`not an instant in UTC: ${JSON.stringify(text)}`));
  });

  test('on a day that does not exist are none', () => {
    expect(() => normalInstant('2026-02-30T12:00:00Z')).toThrow(new RangeError('not a day: "2026-02-30"'));
    expect(() => normalInstant('0999-02-28T12:00:00Z')).toThrow(RangeError);
  });
});

test('offsets are written with hours and minutes', () => {
  expect([0, 120, -210, 345, 840].map(offsetText)).toEqual(['UTC+00:00', 'UTC+02:00', 'UTC-03:30', 'UTC+05:45', 'UTC+14:00']);
});
