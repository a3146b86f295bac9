import type { UnitName } from '#libs/units';
import {
  procedureChecker, type ActualWeld, type ChosenValue, type ProcedureCheck, type ReportedWeldValue, type WeldChoice, type WeldProcedure,
  type WeldRange,
} from '#libs/welding';

const SOURCE = { label: 'weld record 14', record: null };

export const range = (variable: string, min: string | null, max: string | null, unit: UnitName): WeldRange => ({ variable, min, max, unit });
export const value = (variable: string, printed: string, unit: string): ReportedWeldValue => ({ variable, printed, unit, source: SOURCE });
export const chosen = (choice: WeldChoice, what: string): ChosenValue => ({ choice, value: what, source: SOURCE });

export const procedure = (overrides: Partial<WeldProcedure> = {}): WeldProcedure => ({ name: 'P-7 revision 2', ranges: [], lists: [], ...overrides });

export function check(rules: Partial<WeldProcedure>, weld: Partial<ActualWeld>): ProcedureCheck {
  return procedureChecker(procedure(rules))({ values: [], chosen: [], ...weld });
}
