import type { ConformityRules } from '#libs/conformity';
import type { UnitName } from '#libs/units';
import { findWeldVariable } from './weld-variable.js';

/** What a procedure allows of a variable: from `min` to `max`, both included, decimal text; both null asks only for a report. */
export interface WeldRange {
  /** Code of a weld variable. */
  readonly variable: string;
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: UnitName;
}

/** What is chosen for a weld rather than measured. */
export const WELD_CHOICES = ['process', 'material', 'filler-class', 'gas', 'heat-treatment', 'hand', 'operation'] as const;
export type WeldChoice = (typeof WELD_CHOICES)[number];

/** Plain names of the choices, with what is chosen between. */
export const WELD_CHOICE_NAMES: Readonly<Record<WeldChoice, string>> = Object.freeze({
  process: 'process by its number in ISO 4063',
  material: 'material: grade or group',
  'filler-class': 'classification of the filler batch',
  gas: 'designation of the gas',
  'heat-treatment': 'heat treatment: yes or no',
  hand: 'hand of the splice: square, left or right',
  operation: 'operation: manual, mechanised or automatic',
});

/** What a procedure lists: any of these, letter for letter. */
export interface WeldList {
  readonly choice: WeldChoice;
  readonly allowed: readonly string[];
}

/** A procedure as welds are held against it. A variable may have several ranges, as may a choice several lists; all of them hold. */
export interface WeldProcedure {
  /** Number and revision, to be shown beside what it decided. */
  readonly name: string;
  readonly ranges: readonly WeldRange[];
  readonly lists: readonly WeldList[];
}

/** Our own choice: what a procedure allows is where its tests or their validity end, and no measurement moves that. */
export const WINDOW_RULE = "both limits included; a procedure's window is not widened by uncertainty";
export const WINDOW: ConformityRules = Object.freeze({ rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '0' });

/**
 * Throws RangeError when a procedure limits nothing, limits what is no weld variable or in a unit that the variable does not
 * have, or has an empty list. The limits themselves are read by `judge`.
 */
export function demandSense({ name, ranges, lists }: WeldProcedure): void {
  if (ranges.length === 0 && lists.length === 0) throw new RangeError(`${name} limits nothing`);
  for (const range of ranges) demandRange(name, range);
  for (const { choice, allowed } of lists) if (allowed.length === 0) throw new RangeError(`${name} lists nothing for ${choice}`);
}

function demandRange(name: string, { variable, unit }: WeldRange): void {
  const found = findWeldVariable(variable);
  if (found === null) throw new RangeError(`${name} limits ${variable}, which is no weld variable`);
  if (!found.units.includes(unit)) throw new RangeError(`${name} limits ${variable} in ${unit}, and not in one of ${found.units.join(', ')}`);
}
