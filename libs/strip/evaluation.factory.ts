import type { ConformityRules } from '#libs/conformity';
import { evaluator, findCharacteristic, type Evaluation, type EvaluationLine, type OrderedSize, type Requirement, type SourcedValue, type StripRules } from '#libs/strip';

export const ABSOLUTE: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };
export const ROUNDING: ConformityRules = { ...ABSOLUTE, rounding: 'rounding' };
export const GUARDED: ConformityRules = { ...ABSOLUTE, decision: 'guarded-acceptance' };

/** What a characteristic has unless told otherwise: its usual unit, and the heat analysis where it is chemical. */
function usual(characteristic: string): Pick<Requirement, 'characteristic' | 'analysis' | 'unit'> {
  const found = findCharacteristic(characteristic);
  const [unit] = found?.units ?? [];
  if (found === null || unit === undefined) throw new RangeError(`no characteristic ${characteristic}`);
  const isChemical = found.kind === 'chemistry' || found.kind === 'carbon-equivalent';
  return { characteristic, unit, analysis: isChemical ? 'heat' : null };
}

export function requirement(characteristic: string, overrides: Partial<Requirement> = {}): Requirement {
  return {
    ...usual(characteristic), min: null, max: null, limitOf: 'value', toleranceTable: null, toDecimals: null, expandedU: null,
    temperatureC: null, baseMm: null, clause: null, ...overrides,
  };
}

export function value(characteristic: string, printed: string, overrides: Partial<SourcedValue> = {}): SourcedValue {
  return {
    ...usual(characteristic), printed, multiplier: '1', expandedU: null, temperatureC: null, baseMm: null, location: null, direction: null,
    source: { label: 'certificate C-1', record: null }, doubt: null, ...overrides,
  };
}

/** The same values on another paper. */
export const on = (label: string, values: readonly SourcedValue[]): SourcedValue[] =>
  values.map((one) => ({ ...one, source: { label, record: null } }));

/** A composition as `{ C: '0.12' }`, of the heat. */
export const analysis = (percents: Readonly<Record<string, string>>): SourcedValue[] =>
  Object.entries(percents).map(([element, printed]) => value(element, printed));

export function evaluate(
  requirements: readonly Requirement[], values: readonly SourcedValue[], rules: Partial<StripRules> = {}, ordered: OrderedSize | null = null,
): Evaluation {
  return evaluator({ requirements, ownTables: [], conformity: ABSOLUTE, ...rules }, ordered)(values);
}

/** The lines of one requirement. */
export const lines = (one: Requirement, values: readonly SourcedValue[], conformity = ABSOLUTE, ordered: OrderedSize | null = null): readonly EvaluationLine[] =>
  evaluate([one], values, { conformity }, ordered).lines;
