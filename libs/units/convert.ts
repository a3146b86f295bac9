import type { Ratio } from '#libs/exact';
import { minus, over } from '#libs/exact';
import type { Unit, UnitName } from './unit-table.js';
import { UNITS } from './unit-table.js';

/**
 * `value`, given in `fromUnit`, in `toUnit`. The factor is exact until the last step, so the result is within a few
 * units of the last binary place (of the offset, for a temperature near zero), short of underflow. A value in its own unit is returned as it is.
 * Throws RangeError when the dimensions differ, naming both, or when the value or its result is not finite.
 */
export function convert(value: number, fromUnit: UnitName, toUnit: UnitName): number {
  return converter(fromUnit, toUnit)(value);
}

/**
 * The conversion from one unit to another as a function, for many values: the exact factor is worked out once.
 * Throws RangeError at once when the dimensions differ; the function it returns throws as `convert` does.
 */
export function converter(fromUnit: UnitName, toUnit: UnitName): (value: number) => number {
  const { factor, offset } = exactConversion(fromUnit, toUnit);
  // Over one common denominator.
  const multiplier = Number(factor.numerator * offset.denominator);
  const addend = Number(offset.numerator * factor.denominator);
  const divisor = Number(factor.denominator * offset.denominator);
  return (value) => {
    const result = (finite(value, fromUnit) * multiplier + addend) / divisor;
    return finite(result, toUnit);
  };
}

/**
 * The conversion itself, for values that must stay exact: a value `v` in `fromUnit` is `factor × v + offset` in `toUnit`.
 * The offset is 0 but between temperatures; a difference, such as an uncertainty, takes the factor alone.
 * Throws RangeError when the dimensions differ, naming both.
 */
export function exactConversion(fromUnit: UnitName, toUnit: UnitName): { readonly factor: Ratio; readonly offset: Ratio } {
  const from: Unit = UNITS[fromUnit];
  const to: Unit = UNITS[toUnit];
  if (from.dimension !== to.dimension) {
    throw new RangeError(`cannot convert ${fromUnit} (${from.dimension}) to ${toUnit} (${to.dimension})`);
  }
  // to = (from × siPerUnit + siAtZero − its own siAtZero) / its own siPerUnit.
  return { factor: over(from.siPerUnit, to.siPerUnit), offset: over(minus(from.siAtZero, to.siAtZero), to.siPerUnit) };
}

function finite(value: number, unit: UnitName): number {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite value in ${unit}: ${value}`);
  return value;
}
