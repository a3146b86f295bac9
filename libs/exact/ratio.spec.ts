import { describe, expect, test } from '@jest/globals';
import { compare, decimal, decimalsOf, minus, over, plus, ratio, times, toNumber } from '#libs/exact';

describe('ratio', () => {
  test('is held in lowest terms with a positive denominator', () => {
    expect(ratio(6n, -4n)).toEqual({ numerator: -3n, denominator: 2n });
    expect(ratio(0n, -7n)).toEqual({ numerator: 0n, denominator: 1n });
    expect(() => ratio(3n, 0n)).toThrow(new RangeError('ratio has a zero denominator: 3/0'));
  });

  test('reads plain decimals exactly', () => {
    expect(decimal('25.4')).toEqual(ratio(127n, 5n));
    expect(decimal('-0.05')).toEqual(ratio(-1n, 20n));
    expect(decimal('12')).toEqual(ratio(12n));
  });

  test.each(['', '1e3', '.5', '5.', '1,000', ' 1', '+1'])('%j is not a plain decimal', (text) => {
    expect(() => decimal(text)).toThrow(new SyntaxError(`not a plain decimal: ${JSON.stringify(text)}`));
  });

  test('times, over, plus, minus', () => {
    expect(times(ratio(2n, 3n), ratio(9n, 4n))).toEqual(ratio(3n, 2n));
    expect(over(ratio(2n, 3n), ratio(-4n, 9n))).toEqual(ratio(-3n, 2n));
    expect(minus(ratio(1n, 2n), ratio(1n, 3n))).toEqual(ratio(1n, 6n));
    expect(plus(ratio(1n, 2n), ratio(1n, 3n))).toEqual(ratio(5n, 6n));
    expect(plus(ratio(1n, 6n), ratio(-1n, 6n))).toEqual(ratio(0n));
    expect(() => over(ratio(1n), ratio(0n))).toThrow(RangeError);
  });

  test('compare tells apart what no double can', () => {
    const tenth = decimal('0.1');
    expect(compare(tenth, decimal('0.10'))).toBe(0);
    expect(compare(decimal('0.3'), plus(decimal('0.1'), decimal('0.2')))).toBe(0);
    expect(compare(decimal('0.10000000000000000000000001'), tenth)).toBe(1);
    expect(compare(ratio(-1n, 3n), ratio(-1n, 4n))).toBe(-1);
  });

  test('toNumber is the nearest double, as the language reads the same digits', () => {
    const texts = ['0', '-0.1', '0.1', '123456789.123456789', '9007199254740993', '9007199254740993.0000000001', '-0.00000000000000000000000000000123456789012345678901'];
    expect(texts.map((text) => toNumber(decimal(text)))).toEqual(texts.map(Number));
    expect(toNumber(ratio(1n, 3n))).toBe(1 / 3);
    expect(toNumber(ratio(10n ** 400n, 3n * 10n ** 399n))).toBe(10 / 3);
    expect(toNumber(ratio(10n ** 400n))).toBe(Infinity);
  });
});

describe('decimalsOf', () => {
  test('counts the digits as printed', () => {
    expect(['0.085', '0.0850', '12', '-3.2'].map(decimalsOf)).toEqual([3, 4, 0, 1]);
  });

  test.each(['', '1e3', '0,085', '5.', '< 1'])('%j is not a plain decimal', (text) => {
    expect(() => decimalsOf(text)).toThrow(new SyntaxError(`not a plain decimal: ${JSON.stringify(text)}`));
  });
});
