import { compare, decimal } from '#libs/exact';
import { findCharacteristic, type StripUnit } from './characteristic.js';
import type { Analysis } from './paper.js';

/** One line of a specification; decimal text. Without limits and table the value is only asked to be reported. */
export interface Requirement {
  /** Code of a characteristic. */
  readonly characteristic: string;
  /** For chemistry and carbon equivalents; null for everything else. */
  readonly analysis: Analysis | null;
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: StripUnit;
  /** What the limits bound: the value itself, or its deviation from the ordered size. */
  readonly limitOf: 'value' | 'deviation';
  /** Name of the tolerance table that gives the limits of a thickness; null for explicit limits. */
  readonly toleranceTable: string | null;
  /** Decimals that values are rounded to where it is not those of the limit. */
  readonly toDecimals: number | null;
  /** Expanded uncertainty (k = 2) of values that state none, in `unit`. */
  readonly expandedU: string | null;
  /** Test temperature of an impact test. */
  readonly temperatureC: string | null;
  /** Base length of a camber. */
  readonly baseMm: string | null;
  /** Where it stands in the specification. */
  readonly clause: string | null;
}

export interface RequirementFault {
  /** Field of the requirement. */
  readonly field: keyof Requirement;
  readonly value: unknown;
  readonly limit: string;
}

/** What people call a requirement: `C, heat analysis`, `KV2 at -20 °C`. */
export function requirementName(
  { characteristic, analysis, temperatureC, baseMm }: Pick<Requirement, 'characteristic' | 'analysis' | 'temperatureC' | 'baseMm'>,
): string {
  const of = analysis === null ? '' : `, ${analysis} analysis`;
  const at = temperatureC === null ? '' : ` at ${temperatureC} °C`;
  return `${characteristic}${of}${at}${baseMm === null ? '' : ` over ${baseMm} mm`}`;
}

/** What contradicts itself in a requirement, or asks for what cannot be judged; `tables` are the names it may refer to. */
export function requirementFaults(requirement: Requirement, tables: ReadonlySet<string>): RequirementFault[] {
  return [...unitFaults(requirement), ...limitFaults(requirement, tables), ...conditionFaults(requirement)];
}

function unitFaults({ characteristic, unit, analysis }: Requirement): RequirementFault[] {
  const found = findCharacteristic(characteristic);
  if (found === null) return [{ field: 'characteristic', value: characteristic, limit: 'the symbol of a known characteristic' }];
  const chemical = found.kind === 'chemistry' || found.kind === 'carbon-equivalent';
  const faults: RequirementFault[] = [];
  if (!found.units.includes(unit)) faults.push({ field: 'unit', value: unit, limit: `for ${characteristic} one of ${found.units.join(', ')}` });
  if (chemical && analysis === null) faults.push({ field: 'analysis', value: null, limit: `heat or product, for ${characteristic}` });
  if (!chemical && analysis !== null) faults.push({ field: 'analysis', value: analysis, limit: `no analysis, for ${characteristic}` });
  return faults;
}

function limitFaults(requirement: Requirement, tables: ReadonlySet<string>): RequirementFault[] {
  const { characteristic, min, max, limitOf, toleranceTable } = requirement;
  if (toleranceTable !== null) return tableFaults(requirement, tables);
  const faults: RequirementFault[] = [];
  if (limitOf === 'deviation' && characteristic !== 'thickness' && characteristic !== 'width') {
    faults.push({ field: 'limitOf', value: limitOf, limit: 'value: only thickness and width have an ordered size' });
  }
  if (min !== null && max !== null && compare(decimal(min), decimal(max)) > 0) {
    faults.push({ field: 'max', value: max, limit: `at least the ${min} of min` });
  }
  return faults;
}

function tableFaults({ characteristic, min, max, unit, toleranceTable }: Requirement, tables: ReadonlySet<string>): RequirementFault[] {
  const faults: RequirementFault[] = [];
  if (characteristic !== 'thickness') faults.push({ field: 'toleranceTable', value: toleranceTable, limit: 'a table only for thickness' });
  if (unit !== 'mm') faults.push({ field: 'unit', value: unit, limit: 'mm, with a tolerance table' });
  if (min !== null || max !== null) faults.push({ field: 'toleranceTable', value: toleranceTable, limit: 'either a table, or min and max' });
  if (toleranceTable !== null && !tables.has(toleranceTable)) {
    faults.push({ field: 'toleranceTable', value: toleranceTable, limit: `one of ${[...tables].join('; ')}` });
  }
  return faults;
}

function conditionFaults({ characteristic, temperatureC, baseMm }: Requirement): RequirementFault[] {
  const impact = findCharacteristic(characteristic)?.kind === 'impact';
  const camber = characteristic === 'camber';
  const faults: RequirementFault[] = [];
  if (impact !== (temperatureC !== null)) {
    faults.push({ field: 'temperatureC', value: temperatureC, limit: impact ? 'the test temperature' : 'only for impact' });
  }
  if (camber !== (baseMm !== null)) {
    faults.push({ field: 'baseMm', value: baseMm, limit: camber ? 'the base length: it is part of the value' : 'only for camber' });
  }
  return faults;
}
