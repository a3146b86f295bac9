import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { UnitName } from '#libs/units';
import { compare, decimal, decimalsOf, decimalText, plus, times, toNumber } from '#libs/exact';
import { convert, converter, exactConversion, UNITS } from '#libs/units';
import { seedFromEnvironment } from '../setup/seed.js';
import { fieldValue, unitsOfOneDimension, unitsOfTwoDimensions } from './units.arbitraries.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 1000 };

/**
 * Each conversion rounds at most three times; two of them make six roundings of half an epsilon each. A temperature
 * near zero keeps the absolute error of its offset, which is below 1000 in every unit.
 */
function roundingErrorAt(value: number, unit: UnitName): number {
  const offset = UNITS[unit].dimension === 'temperature' ? 1000 : 0;
  return 3 * Number.EPSILON * (Math.abs(value) + offset);
}

describe('unit conversion', () => {
  test('there and back returns the value, to rounding', () => {
    fc.assert(
      fc.property(unitsOfOneDimension, fieldValue, ([from, to], value) => {
        const back = convert(convert(value, from, to), to, from);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(roundingErrorAt(value, from));
      }),
      PARAMETERS,
    );
  });

  test('going through a third unit makes no difference, to rounding', () => {
    fc.assert(
      fc.property(unitsOfOneDimension, fieldValue, ([from, by, to], value) => {
        const direct = convert(value, from, to);
        const through = convert(convert(value, from, by), by, to);
        expect(Math.abs(through - direct)).toBeLessThanOrEqual(2 * roundingErrorAt(direct, to));
      }),
      PARAMETERS,
    );
  });

  test('a value in its own unit is not touched', () => {
    fc.assert(
      fc.property(unitsOfOneDimension, fieldValue, ([unit], value) => {
        expect(convert(value, unit, unit)).toBe(value + 0);
      }),
      PARAMETERS,
    );
  });

  test('order is kept', () => {
    fc.assert(
      fc.property(unitsOfOneDimension, fieldValue, fieldValue, ([from, to], a, b) => {
        const inTo = converter(from, to);
        expect(inTo(Math.min(a, b))).toBeLessThanOrEqual(inTo(Math.max(a, b)));
      }),
      PARAMETERS,
    );
  });

  test('the difference of two temperatures converts as a temperature difference', () => {
    const celsius = fc.double({ min: -273.15, max: 2000, noNaN: true });
    fc.assert(
      fc.property(celsius, celsius, (a, b) => {
        const difference = convert(a, 'degC', 'degF') - convert(b, 'degC', 'degF');
        expect(difference).toBeCloseTo(convert(a - b, 'deltaDegC', 'deltaDegF'), 9);
      }),
      PARAMETERS,
    );
  });

  test('units of different dimensions are always refused', () => {
    fc.assert(
      fc.property(unitsOfTwoDimensions, fieldValue, ([from, to], value) => {
        expect(() => convert(value, from, to)).toThrow(RangeError);
      }),
      PARAMETERS,
    );
  });

  test('converted exactly, there and back keeps every printed digit', () => {
    const printed = fc.tuple(fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }), fc.integer({ min: 1, max: 9 })).map(([units, decimals]) => {
      const digits = String(units < 0n ? -units : units).padStart(decimals + 1, '0');
      return `${units < 0n ? '-' : ''}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
    });
    fc.assert(
      fc.property(unitsOfOneDimension, printed, ([from, to], text) => {
        const [there, back] = [exactConversion(from, to), exactConversion(to, from)];
        const value = plus(times(decimal(text), there.factor), there.offset);
        const again = plus(times(value, back.factor), back.offset);
        expect(compare(again, decimal(text))).toBe(0);
        expect(decimalText(again, decimalsOf(text), 'half-even')).toBe(text);
      }),
      PARAMETERS,
    );
  });

  test('the exact conversion and that of numbers agree, to rounding', () => {
    fc.assert(
      fc.property(unitsOfOneDimension, fc.integer({ min: -1_000_000, max: 1_000_000 }), ([from, to], value) => {
        const { factor, offset } = exactConversion(from, to);
        const exact = toNumber(plus(times(decimal(String(value)), factor), offset));
        expect(Math.abs(convert(value, from, to) - exact)).toBeLessThanOrEqual(2 * roundingErrorAt(exact, to) + roundingErrorAt(value, from) * toNumber(factor));
      }),
      PARAMETERS,
    );
  });
});
