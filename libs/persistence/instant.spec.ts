import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { seedFromEnvironment } from '../../test/setup/seed.js';
import { instantOf, isInstant, microseconds, normalInstant } from './instant.js';

/** Microseconds of the years 1900 to 2199, exact as JavaScript numbers. */
const someTime = fc.integer({ min: Date.UTC(1900, 0, 1) * 1000, max: Date.UTC(2199, 11, 31) * 1000 });
const offset = fc.tuple(fc.constantFrom('+', '-'), fc.integer({ min: 0, max: 14 }), fc.constantFrom(0, 15, 30, 45));

const check = <T>(arbitrary: fc.Arbitrary<T>, property: (value: T) => void): void => {
  fc.assert(fc.property(arbitrary, property), { numRuns: 2000, ...seedFromEnvironment() });
};

const two = (number: number): string => String(number).padStart(2, '0');

describe('what an instant is', () => {
  test.each([
    '2026-03-01T07:15:00Z', '2026-03-01T07:15:00.1Z', '2026-03-01T07:15:00.123456Z', '2026-03-01T07:15:00+08:00',
    '2026-03-01T07:15:00.5-03:30', '2024-02-29T00:00:00Z', '2000-02-29T23:59:59Z', '2026-12-31T23:59:59.999999Z',
  ])('%s is one', (text) => {
    expect(isInstant(text)).toBe(true);
  });

  test.each([
    '2026-02-29T00:00:00Z', '2100-02-29T00:00:00Z', '2026-02-31T00:00:00Z', '2026-04-31T12:00:00+02:00', '2026-00-10T00:00:00Z',
    '2026-13-01T00:00:00Z', '2026-01-00T00:00:00Z', '2026-01-01T25:00:00Z', '2026-01-01T00:60:00Z', '2026-01-01T00:00:60Z',
    '2026-03-01T07:15:00', '2026-03-01 07:15:00Z', '2026-03-01', '2026-03-01T07:15Z', '2026-03-01T07:15:00.1234567Z', '2026-03-01T07:15:00.Z',
    '2026-03-01T07:15:00+0800', '2026-03-01T07:15:00+25:00', '2026-03-01T07:15:00z', ' 2026-03-01T07:15:00Z', '2026-03-01T07:15:00Z\n', '+02026-03-01T07:15:00Z', '',
  ])('%j is none', (text) => {
    expect(isInstant(text)).toBe(false);
  });

  test('every day of the calendar from 1999 to 2101, and none beyond a month, against the rule of leap years', () => {
    for (let year = 1999; year <= 2101; year += 1) {
      const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
      const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
      for (const [index, length] of days.entries()) {
        for (let day = 0; day <= 32; day += 1) {
          const text = `${year}-${two(index + 1)}-${two(day)}T12:00:00Z`;
          if (isInstant(text) !== (day >= 1 && day <= length)) expect(text).toBe('judged by the calendar');
        }
      }
    }
  });
});

describe('microseconds', () => {
  test('counts from 1970', () => {
    expect(microseconds('1970-01-01T00:00:00Z')).toBe(0);
    expect(microseconds('1970-01-01T00:00:00.000001Z')).toBe(1);
    expect(microseconds('1969-12-31T23:59:59.999999Z')).toBe(-1);
    expect(microseconds('1970-01-01T08:00:01+08:00')).toBe(1_000_000);
    expect(() => microseconds('yesterday')).toThrow(RangeError);
  });

  test('every microsecond comes back as it was', () => {
    check(someTime, (us) => {
      const text = instantOf(us);
      expect(text).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/);
      expect(isInstant(text)).toBe(true);
      expect(microseconds(text)).toBe(us);
    });
  });

  test('the normal spelling sorts as time does', () => {
    check(fc.tuple(someTime, someTime), ([one, other]) => {
      expect(Math.sign(one - other)).toBe(instantOf(one) < instantOf(other) ? -1 : instantOf(one) > instantOf(other) ? 1 : 0);
    });
  });
});

describe('the normal spelling', () => {
  test('is one for all spellings of an instant', () => {
    check(fc.tuple(someTime, offset), ([us, [sign, hours, minutes]]) => {
      const shift = (sign === '+' ? 1 : -1) * (hours * 60 + minutes);
      const local = instantOf(us + shift * 60e6).slice(0, -1);
      expect(normalInstant(`${local}${sign}${two(hours)}:${two(minutes)}`)).toBe(instantOf(us));
      expect(normalInstant(instantOf(us))).toBe(instantOf(us));
    });
  });

  test('fills decimals up to six and drops none', () => {
    expect(normalInstant('2026-03-01T07:15:00.5Z')).toBe('2026-03-01T07:15:00.500000Z');
    expect(normalInstant('2026-03-01T07:15:00Z')).toBe('2026-03-01T07:15:00.000000Z');
    expect(normalInstant('2026-03-01T00:15:00.000001+01:00')).toBe('2026-02-28T23:15:00.000001Z');
  });
});
