import type { Limits } from '#libs/conformity';
import { decimal, decimalsOf, decimalText, exactText, plus, rounded, times } from '#libs/exact';
import { exactConversion, isUnitName, UNITS, type UnitName } from '#libs/units';
import type { Requirement } from './requirement.js';
import { limitsText } from './specification-difference.js';
import { thicknessTolerance, THICKNESS_TOLERANCE_TABLES } from './thickness-tolerance.js';
import type { ToleranceTable } from './tolerance-table.js';

/** The size that was ordered, in mm, decimal text. */
export interface OrderedSize {
  readonly thicknessMm: string;
  readonly widthMm: string;
}

/** The limits that a value is held against, in words and numbers, and where they come from; or why there are none. */
export type EffectiveLimits =
  | { readonly limits: Limits; readonly words: string; readonly origin: string }
  | { readonly missing: string; readonly words: string };

/**
 * The limits of a requirement for strip of the ordered size; null where no order says the size. Where a project and a
 * standard have a table of one name, the project's counts. Throws SyntaxError on what is no plain decimal, and RangeError on
 * an ordered size that is not over 0 and is looked up in a table.
 */
export function effectiveLimits(requirement: Requirement, ordered: OrderedSize | null, ownTables: readonly ToleranceTable[]): EffectiveLimits {
  const { min, max, unit, limitOf, toleranceTable, clause } = requirement;
  const origin = clause === null ? 'the specification' : `clause ${clause}`;
  if (toleranceTable !== null) return byTable(toleranceTable, ordered, ownTables, origin);
  if (limitOf === 'value' || (min === null && max === null)) return { limits: { min, max, unit }, words: limitsText(requirement), origin };
  if (ordered === null) return { missing: NO_ORDER, words: `${limitsText(requirement)} from the ordered size` };
  if (!isUnitName(unit) || UNITS[unit].dimension !== 'length') {
    return { missing: `${unit} is no unit of length`, words: `${limitsText(requirement)} from the ordered size` };
  }
  const nominalMm = requirement.characteristic === 'width' ? ordered.widthMm : ordered.thicknessMm;
  const limits: Limits = {
    min: min === null ? null : limitAt(nominalMm, min, unit, 'floor'), max: max === null ? null : limitAt(nominalMm, max, unit, 'ceiling'), unit,
  };
  return { limits, words: limitsText({ min: limits.min, max: limits.max, unit }), origin: `${nominalMm} mm ordered, ${limitsText(requirement)}, ${origin}` };
}

const NO_ORDER = 'no order says the ordered size that these limits start from';

function byTable(name: string, ordered: OrderedSize | null, ownTables: readonly ToleranceTable[], origin: string): EffectiveLimits {
  const words = `by the table ${name}`;
  const table = [...ownTables, ...THICKNESS_TOLERANCE_TABLES].find((one) => one.name === name);
  if (table === undefined) return { missing: `there is no tolerance table ${name}`, words };
  if (ordered === null) return { missing: NO_ORDER, words };
  const found = thicknessTolerance(table, ordered.thicknessMm, ordered.widthMm);
  if ('missing' in found) return { missing: found.missing, words };
  const { thicknessMm } = ordered;
  const limits = { min: limitAt(thicknessMm, `-${found.minusMm}`, 'mm', 'floor'), max: limitAt(thicknessMm, found.plusMm, 'mm', 'ceiling'), unit: 'mm' } as const;
  return { limits, words: limitsText(limits), origin: `${thicknessMm} mm ordered, ${name}, ${found.cell} (${found.source}), ${origin}` };
}

/** A size in mm need not have an end in inches. No paper prints so many digits of an inch. */
const DECIMALS_WITHOUT_END = 9;

/**
 * The ordered size and a deviation from it, in the unit of the deviation, with the digits of the finer of the two: the place
 * of a limit is part of it. Without an end it is cut outwards, so that a value just on the limit stays inside.
 */
function limitAt(nominalMm: string, deviation: string, unit: UnitName, outwards: 'floor' | 'ceiling'): string {
  const limit = plus(times(decimal(nominalMm), exactConversion('mm', unit).factor), decimal(deviation));
  const exact = exactText(limit);
  if (exact === null) return decimalText(rounded(limit, DECIMALS_WITHOUT_END, outwards), DECIMALS_WITHOUT_END, 'half-even');
  const decimals = Math.max(decimalsOf(exact), decimalsOf(deviation), unit === 'mm' ? decimalsOf(nominalMm) : 0);
  return decimalText(limit, decimals, 'half-even');
}
