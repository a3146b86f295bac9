import { decimal } from '#libs/exact';
import { slipOf, type EvaluationLine, type PrintedValue } from '#libs/strip';
import { outside, type Finding } from '../records/plausibility.js';
import type { CheckReading, IncomingCheck } from './incoming-check.entity.js';

/** A check's readings as printed values. */
export function valuesOf(check: Pick<IncomingCheck, 'characteristic' | 'unit' | 'readings' | 'expandedU' | 'baseMm'>): PrintedValue[] {
  return check.readings.map((reading) => ({
    characteristic: check.characteristic, analysis: null, printed: reading.printed, unit: check.unit, multiplier: '1',
    expandedU: check.expandedU, temperatureC: null, baseMm: check.baseMm, location: placeOf(reading), direction: null,
  }));
}

/** `head, centre`, `tail, edge, 25 mm from it`. */
export function placeOf({ along, across, fromEdgeMm }: CheckReading): string {
  const from = fromEdgeMm === null ? [] : [`${fromEdgeMm} mm from the edge`];
  return [along, ...(across === null ? [] : [across.replace('-', ' ')]), ...from].join(', ');
}

/** How far readings usually lie from the ordered size. Common practice, no published source. */
const USUAL = { thickness: { relative: 0.1, mm: 0 }, width: { relative: 0, mm: 3 } } as const;
/** Camber and hardness beyond which one asks. Common practice, no published source. */
const ASKED = { camber: { min: -10, max: 10, unit: 'mm' }, HV5: { max: 250, unit: 'HV5' }, HV10: { max: 250, unit: 'HV10' }, HV30: { max: 250, unit: 'HV30' } } as const;

/** What a reading is held against before its limits: the ordered size in mm, where there is one. */
export interface Ordered {
  readonly thicknessMm: string;
  readonly widthMm: string;
}

/** What is possible but unlikely in some readings, with the unit or decimal slip that it looks like. */
export function unlikelyReadings(check: Pick<IncomingCheck, 'characteristic' | 'unit' | 'readings'>, ordered: Ordered | null): Finding[] {
  const { characteristic, unit, readings } = check;
  return readings.flatMap(({ printed }, index): Finding[] => {
    const field = `readings[${index}].printed`;
    if (!/^-?\d+(\.\d+)?$/.test(printed)) return [];
    if (characteristic === 'thickness' || characteristic === 'width') {
      return ordered === null || unit !== 'mm' ? [] : farFromOrdered(field, printed, characteristic, ordered);
    }
    const asked = ASKED[characteristic as keyof typeof ASKED] as (typeof ASKED)[keyof typeof ASKED] | undefined;
    return asked === undefined ? [] : outside('implausible', field, printed, asked);
  });
}

function farFromOrdered(field: string, printed: string, characteristic: 'thickness' | 'width', ordered: Ordered): Finding[] {
  const nominal = characteristic === 'thickness' ? ordered.thicknessMm : ordered.widthMm;
  const { relative, mm } = USUAL[characteristic];
  const off = Math.abs(Number(printed) - Number(nominal));
  if (off <= relative * Number(nominal) + mm) return [];
  const slip = slipOf(decimal(printed), decimal(nominal));
  const within = relative > 0 ? `${relative * 100} %` : `${mm} mm`;
  const limit = `usually within ${within} of the ${nominal} mm ordered${slip === null ? '' : `; it looks like ${slip.because}`}`;
  return [{ tier: 'implausible', field, value: printed, limit }];
}

/** What is out of specification among the lines of an evaluation of just these readings, in their order. */
export function outOfSpecification(lines: readonly EvaluationLine[], readings: readonly CheckReading[]): Finding[] {
  return lines.flatMap(({ verdict, limits, printed }, index): Finding[] => {
    const value = readings[index]?.printed;
    if (value === undefined || printed === null) return [];
    const field = `readings[${index}].printed`;
    if (verdict === 'does-not-conform') return [{ tier: 'out-of-specification', field, value, limit: limits }];
    return verdict === 'inside-guard-band' ? [{ tier: 'noted', field, value, limit: `${limits}: inside the guard band` }] : [];
  });
}
