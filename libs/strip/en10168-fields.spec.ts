import { describe, expect, test } from '@jest/globals';
import { EN_10168_CODES, EN_10168_GROUPS, meaningOfCode } from '#libs/strip';

const numberOf = (code: string): number => Number(code.slice(1));

describe('EN 10168 codes', () => {
  test('each group is covered once, from its first code to its last, without a gap', () => {
    for (const { letter, first, last } of EN_10168_GROUPS) {
      const own = EN_10168_CODES.filter((one) => one.first.startsWith(letter));
      expect(own[0]?.first).toBe(first);
      expect(own.at(-1)?.last).toBe(last);
      expect(own.slice(1).map((one) => numberOf(one.first))).toEqual(own.slice(0, -1).map((one) => numberOf(one.last) + 1));
    }
    expect(EN_10168_CODES.every(({ first, last }) => first.charAt(0) === last.charAt(0))).toBe(true);
  });

  test('one step either side of a range', () => {
    expect(['C70', 'C71', 'C92', 'C93'].map(meaningOfCode)).toEqual([
      'Steelmaking process (Y = basic oxygen, E = electric furnace)', 'Chemical composition', 'Chemical composition',
      'Chemical composition: supplementary information',
    ]);
  });

  test.each(['', 'A', 'A00', 'B00', 'D00', 'Z00', 'E01', 'c71', 'C7', 'C071', 'C71 ', 'C100'])('%j is no code', (code) => {
    expect(meaningOfCode(code)).toBeNull();
  });
});
