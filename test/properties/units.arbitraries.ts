import fc from 'fast-check';
import type { UnitName } from '#libs/units';
import { UNIT_NAMES, UNITS } from '#libs/units';

export const unitName: fc.Arbitrary<UnitName> = fc.constantFrom(...UNIT_NAMES);

/** Three units of one dimension, repeats included. */
export const unitsOfOneDimension: fc.Arbitrary<[UnitName, UnitName, UnitName]> = unitName.chain((first) => {
  const alike = UNIT_NAMES.filter((name) => UNITS[name].dimension === UNITS[first].dimension);
  return fc.tuple(fc.constant(first), fc.constantFrom(...alike), fc.constantFrom(...alike));
});

/** Two units of different dimensions. */
export const unitsOfTwoDimensions: fc.Arbitrary<[UnitName, UnitName]> = fc
  .tuple(unitName, unitName)
  .filter(([a, b]) => UNITS[a].dimension !== UNITS[b].dimension);

/** Values of both signs, from far below to far above anything measured on a pipe; none so small that it underflows. */
export const fieldValue: fc.Arbitrary<number> = fc
  .tuple(fc.double({ min: -10, max: 10, noNaN: true }), fc.integer({ min: -9, max: 9 }))
  .map(([mantissa, exponent]) => mantissa * 10 ** exponent)
  .filter((value) => value === 0 || Math.abs(value) > 1e-250);
