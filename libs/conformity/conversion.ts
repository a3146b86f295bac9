import { plus, ratio, times } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import { exactConversion, isUnitName, UNITS } from '#libs/units';
import type { Zone } from './zone.js';

/** A value `v` is `factor × v + offset` in the unit of the limits; a difference takes the factor alone. */
export interface Conversion {
  readonly factor: Ratio;
  readonly offset: Ratio;
}

const SAME: Conversion = { factor: ratio(1n), offset: ratio(0n) };

/**
 * The exact conversion into the unit of the limits; `fault` names both units where there is none. A unit that is not in
 * the table, such as a hardness scale, is comparable with itself alone.
 */
export function conversionBetween(unit: string, limitsUnit: string): Conversion | { readonly fault: string } {
  if (unit === limitsUnit) return SAME;
  if (isUnitName(unit) && isUnitName(limitsUnit) && UNITS[unit].dimension === UNITS[limitsUnit].dimension) {
    return exactConversion(unit, limitsUnit);
  }
  return { fault: `the value is in ${named(unit)} and the limits are in ${named(limitsUnit)}: they are not comparable` };
}

/** The zone in the unit of the limits. Factors are positive, so its ends keep their order. */
export function convertedZone(zone: Zone, conversion: Conversion): Zone {
  if (conversion === SAME) return zone;
  const converted = (value: Ratio | null): Ratio | null => value && plus(times(value, conversion.factor), conversion.offset);
  const low = converted(zone.low);
  return { low, high: zone.high === zone.low ? low : converted(zone.high), lowOpen: zone.lowOpen, highOpen: zone.highOpen };
}

function named(unit: string): string {
  return isUnitName(unit) ? `${unit} (${UNITS[unit].dimension})` : `${unit} (a scale of its own)`;
}
