import { describe, expect, test } from '@jest/globals';
import { readNumber } from './number-cell.js';

describe('a number', () => {
  test.each([
    ['0.085', '0.085', 0.085], ['-1.5', '-1.5', -1.5], ['9850', '9850', 9850], ['0', '0', 0], ['24.50', '24.50', 24.5],
    ['<0.001', '<0.001', 0.001], ['< 0.001', '<0.001', 0.001], ['<=0.001', '≤0.001', 0.001], ['≥100', '≥100', 100], ['>=100', '≥100', 100], ['>100', '>100', 100],
    ['123456789012.123456789', '123456789012.123456789', 123456789012.12346],
  ])('%s', (text, printed, number) => {
    expect(readNumber(text)).toEqual({ printed, number });
  });

  test.each([
    ['0,085', 'decimal comma: write 0.085.'], ['<0,001', 'decimal comma: write <0.001.'], ['-1,5', 'decimal comma: write -1.5.'], ['0,123', 'decimal comma: write 0.123.'],
    ['9,850', 'a comma, for decimals or for thousands: write 9.850 or 9850, whichever the paper means.'],
    ['1,009,850', 'thousands separators: write 1009850.'], ['9,850.5', 'thousands separators: write 9850.5.'],
    ['1.009.850', 'thousands separators: write 1009850.'], ['9.850,5', 'thousands separators and a decimal comma: write 9850.5.'],
    ['9 850', 'thousands separators: write 9850.'], ['9\u00a0850,5', 'thousands separators: write 9850.5.'], ['< 9 850', 'thousands separators: write <9850.'],
    ['−1.5', 'a minus sign or dash that is no hyphen: write -1.5.'], ['+1.5', 'a plus sign: write 1.5.'],
    ['.085', 'no digit before the decimal point: write 0.085.'], ['85.', 'no digit after the decimal point: write 85, or the digits that the paper prints.'],
  ])('%s: %s', (text, says) => {
    expect(readNumber(text)).toBe(says);
  });

  test.each([
    ['8.5e-2', /exponent/], ['8,5E-2', /exponent/], ['n/a', /a word/], ['nil', /a word/], ['#N/A', /a word/], ['тр.', /a word/], ['<LOD', /a word/], ['-', /a dash/], ['—', /a dash/],
    ['=1+1', /a formula/], ['@A1', /a formula/], ['0.085%', /unit stands in the header/], ['462 MPa', /unit stands in the header/], ['0.08-0.09', /two numbers/], ['455 / 462', /two numbers/],
    ['1234567890123', /too many digits/], ['0.1234567891', /too many digits/], [' 0.085', /A blank before or after/], ['0.085\u202C', /U\+202C/], ['٠٫٠٨٥', /^No number/], ['<', /^No number/], ['0x1F', /a number and more/],
    ['Infinity', /a word/], [`0,${'0'.repeat(39)}`, /^No number: 41 characters/], ['<<5', /^No number/], ['5*', /^No number/],
  ])('%j is none', (text, says) => {
    expect(readNumber(text)).toMatch(says);
  });
});
