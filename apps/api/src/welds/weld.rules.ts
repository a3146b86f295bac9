import { parseReading } from '#libs/conformity';
import { toNumber } from '#libs/exact';
import { convert } from '#libs/units';
import { findWeldVariable, procedureChecker, type ActualWeld, type HeatInput, type WeldProcedure } from '#libs/welding';
import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import { weldEnergies } from './weld-energies.js';
import type { Weld, WeldReading } from './weld.entity.js';

/** What cannot be in the readings of a weld: digits that are none, a unit of something else, a value that no such weld has. */
export function impossibleReadings(readings: readonly WeldReading[]): FieldProblem[] {
  return readings.flatMap((reading, index): FieldProblem[] => {
    const field = `readings[${index}]`;
    const variable = findWeldVariable(reading.variable);
    if (variable === null || !variable.units.includes(reading.unit)) {
      return [{ field: `${field}.unit`, value: reading.unit, limit: `for ${reading.variable} one of ${variable?.units.join(', ') ?? 'none'}` }];
    }
    const number = inFirstUnit(reading);
    if (typeof number === 'string') return [{ field: `${field}.printed`, value: reading.printed, limit: number }];
    const { possible, units: [unit = ''] } = variable;
    if (number >= possible.min && number <= possible.max) return [];
    return [{ field: `${field}.printed`, value: reading.printed, limit: `${reading.variable} from ${possible.min} to ${possible.max} ${unit}` }];
  });
}

/** What is possible but unusual, to be asked about once. */
export function unusualReadings(readings: readonly WeldReading[]): Finding[] {
  return readings.flatMap((reading, index): Finding[] => {
    const variable = findWeldVariable(reading.variable);
    const number = inFirstUnit(reading);
    if (variable?.usual == null || typeof number === 'string') return [];
    return outside('implausible', `readings[${index}].printed`, number, { ...variable.usual, unit: variable.units[0] ?? '' })
      .map((found) => ({ ...found, value: reading.printed }));
  });
}

/** What lies outside the procedure, and what it asks for and nobody said: taken, and marked. */
export function outsideProcedure(weld: Pick<Weld, 'readings' | 'chosen'>, procedure: WeldProcedure): Finding[] {
  const { lines } = procedureChecker(procedure)(actualWeld(weld, procedure));
  return lines.flatMap(({ subject, verdict, reported, limits, source }): Finding[] => {
    if (verdict === 'conforms' || verdict === 'not-limited') return [];
    const tier = verdict === 'does-not-conform' ? 'out-of-specification' : 'noted';
    return [{ tier, field: source?.label ?? subject, value: reported ?? 'not reported', limit: `${subject}: ${limits ?? ''}`.slice(0, 300) }];
  });
}

/**
 * A weld as it is held against its procedure; the source of each value is the field it stands in. Where the procedure limits
 * an energy per length that nobody reported, it is computed.
 */
export function actualWeld({ readings, chosen }: Pick<Weld, 'readings' | 'chosen'>, { ranges, lists }: WeldProcedure): ActualWeld {
  const process = chosen.find(({ choice }) => choice === 'process')?.value ?? lists.find(({ choice }) => choice === 'process')?.allowed[0] ?? '';
  const isAsked = ({ method }: HeatInput): boolean => ranges.some(({ variable }) => variable === method) && !readings.some(({ variable }) => variable === method);
  return {
    values: [
      ...readings.map(({ variable, printed, unit }, index) => ({ variable, printed, unit, source: { label: `readings[${index}].printed`, record: null } })),
      ...weldEnergies({ readings }, process).filter(isAsked).map((energy) => ({ energy, source: { label: 'readings', record: null } })),
    ],
    chosen: chosen.map(({ choice, value }, index) => ({ choice, value, source: { label: `chosen[${index}].value`, record: null } })),
  };
}

/** The reading in the first unit of its variable; of a censored one, its bound. Text says what is wrong with the digits. */
function inFirstUnit({ variable, printed, unit }: WeldReading): number | string {
  const read = parseReading({ printed, unit, multiplier: '1', expandedU: null });
  if ('fault' in read) return read.fault;
  const known = read.low ?? read.high;
  const first = findWeldVariable(variable)?.units[0] ?? unit;
  return convert(known === null ? 0 : toNumber(known), unit, first);
}
