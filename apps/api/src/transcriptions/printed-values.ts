import { parseReading } from '#libs/conformity';
import { toNumber } from '#libs/exact';
import { findCharacteristic, type PaperLine, type PrintedValue, type StripUnit } from '#libs/strip';
import { convert, isUnitName } from '#libs/units';
import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import type { PaperLinePart, PrintedValuePart } from './printed-value.dto.js';

/** A value as it is kept: what was not given is null, and a multiplier not given is 1. */
export function keptValue(part: PrintedValuePart): PrintedValue {
  return {
    characteristic: part.characteristic, analysis: part.analysis ?? null, printed: part.printed, unit: part.unit,
    multiplier: part.multiplier ?? '1', expandedU: part.expandedU ?? null, temperatureC: part.temperatureC ?? null,
    baseMm: part.baseMm ?? null, location: part.location ?? null, direction: part.direction ?? null,
  };
}

export function keptLine({ coilNumber, heatNumber, values }: PaperLinePart): PaperLine {
  return { coilNumber: coilNumber ?? null, heatNumber: heatNumber ?? null, values: values.map(keptValue) };
}

/** What cannot be: digits that are none, a unit of something else, a value no strip can have. `field` names the value. */
export function impossible(value: PrintedValue, field: string): FieldProblem[] {
  const characteristic = findCharacteristic(value.characteristic);
  if (characteristic === null) return [{ field: `${field}.characteristic`, value: value.characteristic, limit: 'a known characteristic' }];
  const { kind, units, possible, code } = characteristic;
  const chemical = kind === 'chemistry' || kind === 'carbon-equivalent';
  if (!units.includes(value.unit)) return [{ field: `${field}.unit`, value: value.unit, limit: `for ${code} one of ${units.join(', ')}` }];
  if (chemical !== (value.analysis !== null)) {
    return [{ field: `${field}.analysis`, value: value.analysis, limit: chemical ? `heat or product, for ${code}` : `no analysis, for ${code}` }];
  }
  const read = magnitude(value, units[0] ?? value.unit);
  if (typeof read === 'string') return [{ field: `${field}.printed`, value: value.printed, limit: read }];
  if (read >= possible.min && read <= possible.max) return [];
  const limit = `${code} from ${possible.min} to ${possible.max} ${units[0] ?? ''}: look at the unit and the multiplier`;
  return [{ field: `${field}.printed`, value: value.printed, limit }];
}

/** What is possible but unusual, to be asked about once. `field` names the value. */
export function unusual(value: PrintedValue, field: string): Finding[] {
  const characteristic = findCharacteristic(value.characteristic);
  const [unit = value.unit] = characteristic?.units ?? [];
  const read = magnitude(value, unit);
  if (characteristic?.usual == null || typeof read === 'string') return [];
  const [finding] = outside('implausible', `${field}.printed`, read, { ...characteristic.usual, unit });
  return finding === undefined ? [] : [{ ...finding, value: value.printed }];
}

/** The size of a value in a unit; of a censored one, its bound. Text says what is wrong with the digits. */
function magnitude(value: PrintedValue, unit: StripUnit): number | string {
  const bounds = parseReading(value);
  if ('fault' in bounds) return bounds.fault;
  const known = bounds.low ?? bounds.high;
  const number = known === null ? 0 : toNumber(known);
  return value.unit !== unit && isUnitName(value.unit) && isUnitName(unit) ? convert(number, value.unit, unit) : number;
}
