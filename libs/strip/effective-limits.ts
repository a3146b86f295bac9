import type { Limits } from '#libs/conformity';
import { decimal, decimalsOf, decimalText, plus } from '#libs/exact';
import { convert, isUnitName } from '#libs/units';
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

/** The limits of a requirement for strip of the ordered size; null where no order says the size. */
export function effectiveLimits(requirement: Requirement, ordered: OrderedSize | null, ownTables: readonly ToleranceTable[]): EffectiveLimits {
  const { min, max, unit, limitOf, toleranceTable, clause } = requirement;
  const origin = clause === null ? 'the specification' : `clause ${clause}`;
  if (limitOf === 'value' && toleranceTable === null) return { limits: { min, max, unit }, words: limitsText(requirement), origin };
  if (ordered === null) {
    return { missing: 'no order says the ordered size that these limits start from', words: `${limitsText(requirement)} from the ordered size` };
  }
  if (toleranceTable !== null) return byTable(toleranceTable, ordered, ownTables, origin);
  if (!isUnitName(unit)) return { missing: `${unit} is no unit of length`, words: limitsText(requirement) };
  const nominalMm = requirement.characteristic === 'width' ? ordered.widthMm : ordered.thicknessMm;
  const nominal = unit === 'mm' ? nominalMm : String(convert(Number(nominalMm), 'mm', unit));
  const about = (deviation: string | null): string | null => (deviation === null ? null : sum(nominal, deviation));
  const limits: Limits = { min: about(min), max: about(max), unit };
  return { limits, words: limitsText({ ...limits, unit }), origin: `${nominal} ${unit} ordered, ${limitsText(requirement)}, ${origin}` };
}

function byTable(name: string, ordered: OrderedSize, ownTables: readonly ToleranceTable[], origin: string): EffectiveLimits {
  const table = [...ownTables, ...THICKNESS_TOLERANCE_TABLES].find((one) => one.name === name);
  if (table === undefined) return { missing: `there is no tolerance table ${name}`, words: `by the table ${name}` };
  const found = thicknessTolerance(table, ordered.thicknessMm, ordered.widthMm);
  if ('missing' in found) return { missing: found.missing, words: `by the table ${name}` };
  const limits = {
    min: sum(ordered.thicknessMm, `-${found.minusMm}`), max: sum(ordered.thicknessMm, found.plusMm), unit: 'mm',
  } as const;
  return { limits, words: limitsText(limits), origin: `${ordered.thicknessMm} mm ordered, ${name}, ${found.cell} (${found.source}), ${origin}` };
}

/** The sum of two decimals with the digits of the finer one: the place of a limit is part of it. */
function sum(one: string, other: string): string {
  return decimalText(plus(decimal(one), decimal(other)), Math.max(decimalsOf(one), decimalsOf(other)), 'half-even');
}
