import { describe, expect, test } from '@jest/globals';
import { inUnit, sampleText } from './printed-value.js';

describe('a printed value in another unit', () => {
  test.each([
    ['4.970', 'mm', 'mm', '1', '4.970'], ['0.1957', 'in', 'mm', '1', '4.97078'], ['450', 'N/mm2', 'MPa', '1', '450'], ['450', 'N/mm²', 'MPa', '1', '450'], ['4500', 'MPa', 'MPa', '10', '450'],
    // 65 ksi = 65000 · 0.006894757293168… MPa, which has no end.
    ['65', 'ksi', 'MPa', '1', '448.159224056'], [' 480 ', 'MPa', 'MPa', '1', '480'],
  ] as const)('%s %s in %s, multiplied by %s, is %s', (printed, unit, to, multiplier, expected) => {
    expect(inUnit(printed, unit, to, multiplier)).toBe(expected);
  });

  test.each([['≥100', 'mm'], ['<4', 'mm'], ['0', 'mm'], ['0.00', 'mm'], ['-1', 'mm'], ['4,97', 'mm'], ['', 'mm'], ['5', 'MPa'], ['5', 'counts'], ['5', '']])('%j %j is no length', (printed, unit) => {
    expect(inUnit(printed, unit, 'mm')).toBeNull();
  });

  test('the text of a sample reads back as the same float32, in as few digits as can be', () => {
    for (let index = 1; index < 2_000; index += 1) {
      const value = Math.fround(index * 0.00997);
      expect(Math.fround(Number(sampleText(value)))).toBe(value);
      expect(sampleText(value)).toMatch(/^\d+(\.\d+)?$/);
    }
    expect([4.97, 5, 12.345, 100, 1234.5].map((value) => sampleText(Math.fround(value)))).toEqual(['4.97', '5', '12.345', '100', '1234.5']);
  });
});
