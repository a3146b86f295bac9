import { parseReading } from '#libs/conformity';
import { plus, times, type Ratio } from '#libs/exact';
import { exactConversion, type UnitName } from '#libs/units';

/** What was read off an instrument or a record: decimal text with its digits, and the unit it stands in. */
export interface Quantity {
  readonly printed: string;
  readonly unit: UnitName;
}

/** Why there is no figure. */
export interface NotComputable {
  readonly notComputable: string;
  /** Whether it fails for want of a value that nobody reported. */
  readonly isMissing: boolean;
}

/**
 * The exact value of a quantity that cannot be below 0, in `unit`; or why it has none. A value that is missing, unreadable,
 * known only between bounds or below 0 is never taken for 0. Throws RangeError when its unit is of another dimension.
 */
export function exactValue(name: string, quantity: Quantity | null, unit: UnitName): Ratio | NotComputable {
  if (quantity === null) return { notComputable: `the ${name} was not reported`, isMissing: true };
  const { factor, offset } = exactConversion(quantity.unit, unit);
  const read = parseReading({ ...quantity, multiplier: '1', expandedU: null });
  if ('fault' in read) return failed(`the ${name} cannot be read: ${read.fault}`);
  if (read.low === null || read.low !== read.high) return failed(`the ${name} is known only as ${shown(quantity)}`);
  if (read.low.numerator < 0n) return failed(`the ${name} is below 0: ${shown(quantity)}`);
  return plus(times(read.low, factor), offset);
}

/** The exact value of a speed along the weld, in `unit`; a standstill has none to divide by. Throws as `exactValue` does. */
export function exactSpeed(name: string, quantity: Quantity | null, unit: UnitName): Ratio | NotComputable {
  const speed = exactValue(name, quantity, unit);
  if ('notComputable' in speed || speed.numerator !== 0n) return speed;
  return failed(`the ${name} is 0: at a standstill there is no energy per length`);
}

function failed(notComputable: string): NotComputable {
  return { notComputable, isMissing: false };
}

function shown({ printed, unit }: Quantity): string {
  return `${printed} ${unit}`;
}
