import { describe, expect, test } from '@jest/globals';
import { dayFault, textFault } from './text-cell.js';

describe('a text', () => {
  test.each(['LM-01', 'H 407/11', 'Ståhl Řezník', '鋼鉄 😀', "O'Hara", '3=1', 'x'.repeat(60)])('%s', (text) => {
    expect(textFault(text, 60)).toBeNull();
  });

  test.each([
    ['x'.repeat(61), /61 characters; at most 60/], ['=1', /“=”/], ['+1', /“\+”/], ['-1', /“-”/], ['@1', /“@”/], ['\tx', /a TAB/], ['a\tb', /U\+0009/], ['a\u0085b', /U\+0085/],
    ['a\u200Fb', /U\+200F/], ['a\u061Cb', /U\+061C/], ['a\u2066b', /U\+2066/], ['a\u2069', /U\+2069/], ['a\u2028b', /U\+2028/], [' a', /blank/i], ['a\u00a0', /blank/i], [' ', /blank/i],
  ])('%j is refused', (text, says) => {
    expect(textFault(text, 60)).toMatch(says);
  });
});

describe('a day', () => {
  test.each(['1900-01-01', '2199-12-31', '2024-02-29', '2000-02-29'])('%s', (text) => {
    expect(dayFault(text)).toBeNull();
  });

  test.each([
    ['1899-12-31', /1900 to 2199/], ['2200-01-01', /1900 to 2199/], ['2026-02-29', /no such day/], ['2100-02-29', /no such day/], ['2026-13-01', /no such day/], ['2026-00-10', /no such day/],
    ['2026-04-31', /no such day/], ['2026-1-2', /YYYY|No day/], ['22/01/2026', /No day/], ['46044', /No day/], ['2026-01-22T00:00:00Z', /No day/],
  ])('%s is refused', (text, says) => {
    expect(dayFault(text)).toMatch(says);
  });
});
