import { describe, expect, test } from '@jest/globals';
import { decimal, minus, over, ratio, times } from './ratio.js';

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

  test('times, over, minus', () => {
    expect(times(ratio(2n, 3n), ratio(9n, 4n))).toEqual(ratio(3n, 2n));
    expect(over(ratio(2n, 3n), ratio(-4n, 9n))).toEqual(ratio(-3n, 2n));
    expect(minus(ratio(1n, 2n), ratio(1n, 3n))).toEqual(ratio(1n, 6n));
    expect(() => over(ratio(1n), ratio(0n))).toThrow(RangeError);
  });
});
