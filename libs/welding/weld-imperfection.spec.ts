import { describe, expect, test } from '@jest/globals';
import {
  CRACK_LIMIT, excessWeldMetalLimit, misalignmentLimit, rootPenetrationLimit, undercutLimit, type ImperfectionLimit, type QualityLevel,
} from '#libs/welding';

const LEVELS: readonly QualityLevel[] = ['D', 'C', 'B'];
const most = (limit: ImperfectionLimit): string | null => (limit.permitted ? limit.maxMm : null);

describe('limits of ISO 5817', () => {
  test('the bands of thickness meet at 3 mm, which belongs to the thinner', () => {
    expect(LEVELS.map((level) => most(undercutLimit(level, '3')))).toEqual(['0.6', '0.3', null]);
    expect(LEVELS.map((level) => most(undercutLimit(level, '3.1')))).toEqual(['0.62', '0.31', '0.155']);
    expect(LEVELS.map((level) => most(misalignmentLimit(level, '3.0')))).toEqual(['0.95', '0.65', '0.5']);
    expect(LEVELS.map((level) => most(misalignmentLimit(level, '3.2')))).toEqual(['0.8', '0.48', '0.32']);
  });

  test('caps: from where they hold', () => {
    expect(['5', '5.01', '30'].map((t) => most(undercutLimit('D', t)))).toEqual(['1', '1', '1']);
    expect(['9.8', '10.1'].map((t) => most(undercutLimit('B', t)))).toEqual(['0.49', '0.5']);
    expect(LEVELS.map((level) => most(excessWeldMetalLimit(level, '6', '100')))).toEqual(['10', '7', '5']);
    expect(LEVELS.map((level) => most(misalignmentLimit(level, '60')))).toEqual(['5', '4', '3']);
    expect(most(rootPenetrationLimit('D', '20'))).toBe('2');
  });

  test('a stricter level never permits more', () => {
    const excess = (level: QualityLevel, size: string): ImperfectionLimit => excessWeldMetalLimit(level, size, size);
    for (const size of ['0.5', '2.5', '3', '3.01', '6', '12', '40']) {
      for (const limits of [undercutLimit, misalignmentLimit, rootPenetrationLimit, excess]) {
        const [d, c, b] = LEVELS.map((level) => Number(most(limits(level, size)) ?? -1));
        expect([c! <= d!, b! <= c!]).toEqual([true, true]);
      }
    }
  });

  test('only short ones where the standard says so; from memory where it was', () => {
    expect(undercutLimit('C', '2.5')).toMatchObject({ permitted: true, onlyShort: true, fromMemory: false });
    expect(undercutLimit('C', '6')).toMatchObject({ permitted: true, onlyShort: false });
    expect(rootPenetrationLimit('D', '6')).toMatchObject({ maxMm: '1.2', onlyShort: true });
    expect(misalignmentLimit('B', '6')).toMatchObject({ fromMemory: true });
    expect(CRACK_LIMIT.permitted).toBe(false);
  });

  test('below 0.5 mm there is none, and sizes are decimals', () => {
    expect(() => undercutLimit('B', '0.49')).toThrow(new RangeError('ISO 5817 begins at a thickness of 0.5 mm: 0.49'));
    expect(() => excessWeldMetalLimit('B', '0.4', '8')).toThrow(RangeError);
    expect(() => excessWeldMetalLimit('B', '6', '0')).toThrow(new RangeError('weld width must be over 0 mm: 0'));
    expect(() => misalignmentLimit('B', '6 mm')).toThrow(SyntaxError);
  });
});
