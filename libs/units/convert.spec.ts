import { describe, expect, test } from '@jest/globals';
import type { Ratio } from '#libs/exact';
import { compare, decimal, decimalText, exactText, plus, ratio, times } from '#libs/exact';
import { convert, converter, exactConversion, isUnitName, UNIT_NAMES } from '#libs/units';

describe('convert', () => {
  test('a temperature has an offset, a temperature difference has none', () => {
    expect(convert(-40, 'degC', 'degF')).toBe(-40);
    expect(convert(100, 'degC', 'degF')).toBe(212);
    expect(convert(0, 'degC', 'K')).toBe(273.15);
    expect(convert(180, 'deltaDegF', 'deltaDegC')).toBe(100);
  });

  test('factors that follow from the definitions alone', () => {
    expect(convert(1, 'bbl', 'in3')).toBe(42 * 231);
    expect(convert(1, 'mi', 'ft')).toBe(5280);
    expect(convert(1, 'ksi', 'psi')).toBe(1000);
    expect(convert(0.3048, 'lbf/ft', 'N/m')).toBeCloseTo(4.4482216152605, 13);
    expect(convert(25.4, 'kJ/mm', 'kJ/in')).toBeCloseTo(25.4 ** 2, 10);
    expect(convert(60, 'm/min', 'm/s')).toBe(1);
    expect(convert(485, 'N/mm2', 'MPa')).toBe(485);
    expect(convert(0.0035, '%', 'ppm')).toBe(35);
    expect(convert(93, '%', '1')).toBe(0.93);
    expect(convert(300, 'mm/min', 'mm/s')).toBe(5);
    expect(convert(1, 'in/min', 'mm/min')).toBe(25.4);
    expect(convert(1.5, 'm/min', 'mm/min')).toBe(1500);
    expect(convert(2400, 'J/mm', 'kJ/mm')).toBe(2.4);
    expect(convert(1.5, 'h', 's')).toBe(5400);
    expect(convert(2, 'min', 's')).toBe(120);
    expect(convert(60_000, 'L/min', 'm3/s')).toBe(1);
    // One foot is 3.048 dm, so that 60 ft³/h are 3.048³ L/min.
    expect(convert(60, 'ft3/h', 'L/min')).toBeCloseTo(3.048 ** 3, 12);
    expect(convert(4320, 'W', 'kW')).toBe(4.32);
    expect(convert(0.06, 'kV', 'V')).toBe(60);
    expect(convert(1.25, 'kA', 'A')).toBe(1250);
    expect([convert(450, 'kHz', 'MHz'), convert(450, 'kHz', 'Hz')]).toEqual([0.45, 450_000]);
    expect(convert(45, 'deg', 'deg')).toBe(45);
  });

  test('different dimensions are refused, mass and force among them', () => {
    const message = 'cannot convert lb (mass) to lbf (force)';
    expect(() => convert(1, 'lb', 'lbf')).toThrow(new RangeError(message));
    expect(() => converter('degF', 'deltaDegC')).toThrow(RangeError);
    expect(() => convert(1, 'ft.lbf', 'N.m')).toThrow(RangeError);
  });

  test('what is not finite is refused, before and after', () => {
    expect(() => convert(Number.NaN, 'ft', 'm')).toThrow(new RangeError('not a finite value in ft: NaN'));
    expect(() => convert(-Infinity, 'ft', 'ft')).toThrow(RangeError);
    expect(() => convert(1e308, 'm', 'mm')).toThrow(new RangeError('not a finite value in mm: Infinity'));
  });

  test('unit names are matched letter for letter', () => {
    expect(UNIT_NAMES.every(isUnitName)).toBe(true);
    expect(['MPA', 'mpa', 'toString', ''].some(isUnitName)).toBe(false);
  });
});

describe('exactConversion', () => {
  const converted = (value: Ratio, from: Parameters<typeof exactConversion>[0], to: Parameters<typeof exactConversion>[1]): Ratio => {
    const { factor, offset } = exactConversion(from, to);
    return plus(times(value, factor), offset);
  };

  test('gives the factor and the offset in full', () => {
    expect(exactConversion('in', 'mm')).toEqual({ factor: ratio(127n, 5n), offset: ratio(0n) });
    expect(exactConversion('degF', 'degC')).toEqual({ factor: ratio(5n, 9n), offset: ratio(-160n, 9n) });
    expect(exactConversion('MPa', 'N/mm2')).toEqual({ factor: ratio(1n), offset: ratio(0n) });
    expect(exactText(converted(decimal('0.0850'), '%', 'ppm'))).toBe('850');
  });

  test('there and back is the same number, where doubles would drift', () => {
    const value = decimal('70.1');
    expect(exactText(converted(value, 'ksi', 'MPa'))).toBeNull();
    expect(compare(converted(converted(value, 'ksi', 'MPa'), 'MPa', 'ksi'), value)).toBe(0);
    expect(decimalText(converted(converted(value, 'degF', 'K'), 'K', 'degF'), 1, 'half-even')).toBe('70.1');
  });

  test('different dimensions are refused, as by converter', () => {
    const message = 'cannot convert % (fraction) to MPa (pressure)';
    expect(() => exactConversion('%', 'MPa')).toThrow(new RangeError(message));
    expect(() => converter('%', 'MPa')).toThrow(new RangeError(message));
  });
});
