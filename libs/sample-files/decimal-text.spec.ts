import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { bitsOf } from '#libs/signals';
import { seedFromEnvironment } from '../../test/setup/seed.js';
import { DecimalScanner } from './decimal-text.js';
import { instantMicroseconds } from './instant-text.js';

const scanner = new DecimalScanner();
const singleOf = (text: string): number => {
  expect([text, scanner.scan(text)]).toEqual([text, true]);
  return scanner.single();
};
/** The number of a decimal text times 10^200, exactly. */
const scaled = (text: string): bigint => {
  const [, sign, whole = '', fraction = '', exponent = '0'] = /^([+-]?)(\d*)\.?(\d*)(?:e([+-]?\d+))?$/i.exec(text)!;
  return BigInt(whole + fraction) * 10n ** BigInt(200 + Number(exponent) - fraction.length) * (sign === '-' ? -1n : 1n);
};
/** A float32 times 10^200, exactly: all of them are multiples of 2^−149. */
const scaledSingle = (single: number): bigint => (BigInt(single * 2 ** 149) * 10n ** 200n) / 2n ** 149n;
const far = (a: bigint, b: bigint): bigint => (a > b ? a - b : b - a);

describe('a decimal text', () => {
  test('becomes the float32 nearest to it, and no other is nearer', () => {
    const digits = (most: number): fc.Arbitrary<string> => fc.array(fc.nat({ max: 9 }), { minLength: 1, maxLength: most }).map((all) => all.join(''));
    const texts = fc.tuple(fc.constantFrom('', '-', '+'), digits(18), fc.option(digits(30)), fc.option(fc.integer({ min: -40, max: 18 })))
      .map(([sign, whole, fraction, exponent]) => `${sign}${whole}${fraction === null ? '' : `.${fraction}`}${exponent === null ? '' : `e${exponent}`}`);
    fc.assert(fc.property(texts, (text) => {
      const single = singleOf(text);
      const bits = bitsOf(Float32Array.of(single))[0]!;
      const error = far(scaled(text), scaledSingle(single));
      for (const neighbour of [bits - 1, bits + 1]) {
        const other = new Float32Array(Uint32Array.of(neighbour).buffer)[0]!;
        if (Number.isFinite(other)) expect(error <= far(scaled(text), scaledSingle(other))).toBe(true);
      }
    }), { ...seedFromEnvironment(), numRuns: 3000 });
  });

  test('is rounded once, also beside the middle of two float32s and at the end of their range', () => {
    const middle = '1.000000059604644775390625'; // 1 + 2^-24
    expect([singleOf(middle), singleOf(`${middle}0000000000000000000001`), singleOf('1.0000000596046447753906249999999999999999')]).toEqual([1, 1 + 2 ** -23, 1]);
    expect(singleOf('-1.0000000596046447753906250000000000000000001')).toBe(-1 - 2 ** -23);
    const largest = 2 ** 128 - 2 ** 104;
    const end = String(2n ** 128n - 2n ** 103n);
    expect([singleOf(end), singleOf(`${end}.0`), singleOf(`${end.slice(0, -1)}${Number(end.at(-1)) - 1}.9`)]).toEqual([Infinity, Infinity, largest]);
    expect([singleOf('1e39'), singleOf('-1e400'), singleOf('1e-60')]).toEqual([Infinity, -Infinity, 0]);
    expect([Object.is(singleOf('-0'), -0), Object.is(singleOf('-0.00'), -0), Object.is(singleOf('0.00'), 0)]).toEqual([true, true, true]);
  });

  test('has digits, one point and one exponent at most', () => {
    for (const text of ['', '-', '+', '.', '-.', 'e5', '.e5', '1e', '1e+', '1.2.3', '1,5', '0x10', '1_000', ' 1', '1 ', 'NaN', 'Infinity', '1e5.0', '--1', '１', `1${'0'.repeat(100)}`]) {
      expect([text, scanner.scan(text)]).toEqual([text, false]);
    }
    expect(['5.', '.5', '+5', '05', '5e+3', '5E-3'].map(singleOf)).toEqual([5, 0.5, 5, 5, 5000, Math.fround(0.005)]);
  });

  test('says whether its digits can be had back', () => {
    const isKept = (text: string): boolean => scanner.isKeptBy(singleOf(text));
    expect(['5.01', '5.0100000000', '123456', '16777216', '0.000001', '9.999999e5', '100000000'].map(isKept)).toEqual([true, true, true, true, true, true, true]);
    expect(['5.0123456', '16777217', '0.12345678901', '1e39', '-1e-60'].map(isKept)).toEqual([false, false, false, false, false]);
  });

  test('is a whole number of steps or none', () => {
    const whole = (text: string, decimals: number): number | null => (scanner.scan(text) ? scanner.whole(decimals) : null);
    expect([whole('123.456', 3), whole('123.4560000000000000000000000', 3), whole('-0.001', 3), whole('7', 6), whole('4503599627370.496', 3)]).toEqual([123_456, 123_456, -1, 7_000_000, 2 ** 52]);
    expect([whole('123.4561', 3), whole('1e3', 0), whole('0.5', 0)]).toEqual([null, null, null]);
  });
});

describe('an instant', () => {
  test('is microseconds since 1970, whatever its offset', () => {
    expect(instantMicroseconds('1970-01-01T00:00:00Z')).toBe(0);
    expect(instantMicroseconds('2026-03-01T06:00:00.000001Z')).toBe(Date.UTC(2026, 2, 1, 6) * 1000 + 1);
    expect(instantMicroseconds('2026-03-01T06:00:00.5+02:30')).toBe(Date.UTC(2026, 2, 1, 3, 30) * 1000 + 500_000);
    expect(instantMicroseconds('2026-03-01T06:00-0130')).toBe(Date.UTC(2026, 2, 1, 7, 30) * 1000);
    expect(instantMicroseconds('1969-12-31T23:59:59.999999Z')).toBe(-1);
    expect(instantMicroseconds('2024-02-29T00:00:00.123456000Z')).toBe(Date.UTC(2024, 1, 29) * 1000 + 123_456);
    expect(instantMicroseconds('0050-01-01T00:00:00Z')).toBe(Date.parse('0050-01-01T00:00:00Z') * 1000);
  });

  test.each([
    '2026-02-29T00:00:00Z', '2026-13-01T00:00:00Z', '2026-00-01T00:00:00Z', '2026-01-01T24:00:00Z', '2026-01-01T00:60:00Z', '2026-06-30T23:59:60Z', '2026-01-01T00:00:00',
    '2026-01-01 00:00:00Z', '2026-01-01T00:00:00.1234567Z', '2026-01-01T00:00:00+24:00', '01.03.2026 06:00', '2026-01-01', '',
  ])('%s is none', (text) => {
    expect(instantMicroseconds(text)).toBeNull();
  });
});
