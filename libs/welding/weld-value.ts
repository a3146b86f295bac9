import { exactText } from '#libs/exact';
import type { ValueSource } from '#libs/strip';
import type { HeatInput } from './energy-per-length.js';
import type { WeldChoice } from './procedure.js';

/** A value of an actual weld, as read. */
export interface ReportedWeldValue {
  /** Code of a weld variable. */
  readonly variable: string;
  readonly printed: string;
  readonly unit: string;
  readonly source: ValueSource;
}

/** An energy per length of an actual weld, or why there is none; its variable is its method. */
export interface ComputedWeldValue {
  readonly energy: HeatInput;
  readonly source: ValueSource;
}

export type WeldValue = ReportedWeldValue | ComputedWeldValue;

/** What was chosen for an actual weld. */
export interface ChosenValue {
  readonly choice: WeldChoice;
  readonly value: string;
  readonly source: ValueSource;
}

/** What is known of a weld. A variable may have several values, such as the thickness of either strip. */
export interface ActualWeld {
  readonly values: readonly WeldValue[];
  readonly chosen: readonly ChosenValue[];
}

/** The code of a value's variable. */
export function variableOf(value: WeldValue): string {
  return 'energy' in value ? value.energy.method : value.variable;
}

/** The value with its unit, a computed one in full or to the accuracy of a double; null where it could not be computed. */
export function reportedText(value: WeldValue): string | null {
  if (!('energy' in value)) return `${value.printed} ${value.unit}`;
  if ('notComputable' in value.energy) return null;
  return `${exactText(value.energy.exact) ?? String(value.energy.kjPerMm)} kJ/mm, computed`;
}
