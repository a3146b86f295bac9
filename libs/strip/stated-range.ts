import { parseReading } from '#libs/conformity';
import { compare, ratio, times, type Ratio } from '#libs/exact';
import { exactConversion, isUnitName, UNITS, type UnitName } from '#libs/units';
import type { SourcedValue } from './sourced-value.js';

/** What papers say of a quantity that cannot be below 0: it lies from `low` to `high`, or is not bounded above when that is null. */
export interface StatedRange {
  readonly low: Ratio;
  readonly high: Ratio | null;
  /** A value in it is in doubt or cannot be read, and so says nothing. */
  readonly isDoubtful: boolean;
}

const ZERO = ratio(0n);
const ANYTHING: StatedRange = { low: ZERO, high: null, isDoubtful: true };

/** What one value says, exactly, in `unit`. In doubt, unreadable or of another dimension it says nothing, and might be anything. */
export function statedRange(value: SourcedValue, unit: UnitName): StatedRange {
  if (value.doubt !== null || !isUnitName(value.unit) || UNITS[value.unit].dimension !== UNITS[unit].dimension) return ANYTHING;
  const read = parseReading(value);
  if ('fault' in read || (read.high !== null && compare(read.high, ZERO) < 0)) return ANYTHING;
  const { factor } = exactConversion(value.unit, unit);
  const low = read.low === null || compare(read.low, ZERO) < 0 ? ZERO : times(read.low, factor);
  return { low, high: read.high === null ? null : times(read.high, factor), isDoubtful: false };
}

/** From the least to the most that either says. */
export function hull(one: StatedRange, other: StatedRange): StatedRange {
  const low = compare(one.low, other.low) <= 0 ? one.low : other.low;
  const isDoubtful = one.isDoubtful || other.isDoubtful;
  if (one.high === null || other.high === null) return { low, high: null, isDoubtful };
  return { low, high: compare(one.high, other.high) >= 0 ? one.high : other.high, isDoubtful };
}
