import { describe, expect, test } from '@jest/globals';
import { decimal, decimalText, exactText, ratio, rounded } from '#libs/exact';

describe('decimalText', () => {
  test('prints exactly the digits that are asked for', () => {
    expect(decimalText(decimal('25.4'), 3, 'half-even')).toBe('25.400');
    expect(decimalText(decimal('0.05'), 2, 'half-even')).toBe('0.05');
    expect(decimalText(ratio(2n, 3n), 4, 'half-even')).toBe('0.6667');
    expect(decimalText(decimal('-12.75'), 0, 'half-even')).toBe('-13');
  });

  test('a tie goes to the even digit, or away from zero; one step beside it goes to the nearest', () => {
    const texts = ['0.125', '0.135', '-0.125', '0.12501', '0.12499'];
    expect(texts.map((text) => decimalText(decimal(text), 2, 'half-even'))).toEqual(['0.12', '0.14', '-0.12', '0.13', '0.12']);
    expect(texts.map((text) => decimalText(decimal(text), 2, 'half-away'))).toEqual(['0.13', '0.14', '-0.13', '0.13', '0.12']);
  });

  test('rounds once: 0.149 to one decimal is 0.1, not 0.15 and then 0.2', () => {
    expect(decimalText(decimal('0.149'), 1, 'half-away')).toBe('0.1');
  });

  test('what rounds to nothing has no sign', () => {
    expect(decimalText(decimal('-0.004'), 2, 'half-even')).toBe('0.00');
    expect(decimalText(decimal('-4'), -1, 'half-even')).toBe('0');
    expect(decimalText(decimal('-0.0'), 1, 'half-away')).toBe('0.0');
  });

  test('negative decimals round to tens and hundreds', () => {
    expect(decimalText(decimal('14525'), -1, 'half-even')).toBe('14520');
    expect(decimalText(decimal('14525'), -1, 'half-away')).toBe('14530');
    expect(decimalText(decimal('-35534.2'), -2, 'half-even')).toBe('-35500');
  });

  test.each([1.5, Number.NaN, Infinity])('%p is no number of decimals', (decimals) => {
    expect(() => decimalText(ratio(1n), decimals, 'half-even')).toThrow(new RangeError(`decimals is not a whole number: ${decimals}`));
  });
});

describe('rounded', () => {
  test('to the nearest, down and up, on both sides of zero', () => {
    expect(rounded(decimal('2.5'), 0, 'half-even')).toEqual(ratio(2n));
    expect(rounded(decimal('-2.5'), 0, 'half-away')).toEqual(ratio(-3n));
    expect(rounded(decimal('2.31'), 1, 'floor')).toEqual(decimal('2.3'));
    expect(rounded(decimal('2.31'), 1, 'ceiling')).toEqual(decimal('2.4'));
    expect(rounded(decimal('-2.31'), 1, 'floor')).toEqual(decimal('-2.4'));
    expect(rounded(decimal('-2.31'), 1, 'ceiling')).toEqual(decimal('-2.3'));
    expect(rounded(decimal('2.30'), 1, 'ceiling')).toEqual(decimal('2.3'));
    expect(rounded(decimal('1234'), -2, 'ceiling')).toEqual(ratio(1300n));
  });
});

describe('exactText', () => {
  test('a decimal that ends is printed in full, without idle zeros', () => {
    expect(exactText(decimal('0.0850'))).toBe('0.085');
    expect(exactText(ratio(1n, 8n))).toBe('0.125');
    expect(exactText(ratio(-7n, 25n))).toBe('-0.28');
    expect(exactText(ratio(1200n))).toBe('1200');
    expect(exactText(ratio(0n))).toBe('0');
  });

  test('one that does not end is not cut off', () => {
    expect(exactText(ratio(1n, 3n))).toBeNull();
    expect(exactText(ratio(1n, 70n))).toBeNull();
  });
});
