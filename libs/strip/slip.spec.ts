import { describe, expect, test } from '@jest/globals';
import { decimal } from '#libs/exact';
import { slipOf } from '#libs/strip';

const slip = (value: string, expected: string, tolerance?: string) =>
  slipOf(decimal(value), decimal(expected), tolerance === undefined ? undefined : decimal(tolerance))?.factor ?? null;

describe('slipOf', () => {
  test.each([
    ['0.236', '6.00', '1/25.4'],
    ['152.4', '6.00', '25.4'],
    ['61', '420', '1/6.895'],
    ['2896', '420', '6.895'],
    ['1161', '354', '1/0.3048'],
    ['108', '354', '0.3048'],
    ['0.85', '0.085', '10'],
    ['8.5', '0.085', '100'],
    ['6000', '6', '1000'],
    ['5', '5000', '1/1000'],
    ['0.6', '6', '1/10'],
    ['0.00085', '0.085', '1/100'],
  ])('%s where %s was expected: %s', (value, expected, factor) => {
    expect(slip(value, expected)).toBe(factor);
  });

  test('says what slipped', () => {
    expect(slipOf(decimal('0.236'), decimal('6'))).toEqual({ factor: '1/25.4', because: 'inches in a field of mm' });
  });

  test('the tolerance ends where it says, and belongs to the slip', () => {
    expect(['96.9', '97', '103', '103.1'].map((value) => slip(value, '10'))).toEqual([null, '10', '10', null]);
    expect(['99.9', '100', '100.1'].map((value) => slip(value, '10', '0'))).toEqual([null, '10', null]);
    expect(slip('118', '10', '0.18')).toBe('10');
  });

  test('a usual deviation, a zero and a sign are no slip', () => {
    expect(['6', '5.2', '12', '0', '-60'].map((value) => slip(value, '6'))).toEqual([null, null, null, null, null]);
    expect(slip('6', '0')).toBeNull();
    expect(slip('-60', '-6')).toBeNull();
  });

  test('a tolerance that could not tell factors apart is refused', () => {
    expect(() => slip('6', '6', '0.181')).toThrow(new RangeError('tolerance must be from 0 to 18 %'));
    expect(() => slip('6', '6', '-0.01')).toThrow(RangeError);
  });
});
