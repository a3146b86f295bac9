import { compare, decimal, minus, plus, times, toNumber, type Ratio } from '#libs/exact';
import { slipOf, type EvaluationLine, type PrintedValue, type SourcedValue } from '#libs/strip';
import { exactConversion, isUnitName } from '#libs/units';
import { outside, type Finding } from '../records/plausibility.js';
import { unusual } from '../transcriptions/printed-values.js';
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

/** A check's readings as values; the source of each is the field it stands in, so that a line of their evaluation leads back to it. */
export function sourcedReadings(check: Parameters<typeof valuesOf>[0]): SourcedValue[] {
  return valuesOf(check).map((value, index) => ({ ...value, source: { label: fieldOf(index), record: null }, doubt: null }));
}

const fieldOf = (index: number): string => `readings[${index}].printed`;

/** How far readings usually lie from the ordered size. Common practice, no published source. */
const USUAL = { thickness: { relative: 0.1, mm: 0 }, width: { relative: 0, mm: 3 } } as const;
/** Camber beyond which one asks. Common practice, no published source. */
const USUAL_CAMBER = { min: -10, max: 10, unit: 'mm' } as const;

/** What a reading is held against before its limits: the ordered size in mm, where there is one. */
export interface Ordered {
  readonly thicknessMm: string;
  readonly widthMm: string;
}

/** What is possible but unlikely in some readings, with the unit or decimal slip that it looks like. */
export function unlikelyReadings(check: Parameters<typeof valuesOf>[0], ordered: Ordered | null): Finding[] {
  return valuesOf(check).flatMap((value, index): Finding[] => {
    const { characteristic, printed, unit } = value;
    const length = characteristic === 'thickness' || characteristic === 'width' || characteristic === 'camber';
    if (!length) return unusual(value, `readings[${index}]`);
    if (!/^-?\d+(\.\d+)?$/.test(printed) || !isUnitName(unit)) return [];
    const readMm = times(decimal(printed), exactConversion(unit, 'mm').factor);
    if (characteristic === 'camber') return outside('implausible', fieldOf(index), toNumber(readMm), USUAL_CAMBER).map((found) => ({ ...found, value: printed }));
    return ordered === null ? [] : farFromOrdered(fieldOf(index), printed, readMm, characteristic === 'thickness' ? ordered.thicknessMm : ordered.widthMm, USUAL[characteristic]);
  });
}

function farFromOrdered(field: string, printed: string, readMm: Ratio, nominalMm: string, usual: { readonly relative: number; readonly mm: number }): Finding[] {
  const nominal = decimal(nominalMm);
  const most = plus(times(nominal, decimal(String(usual.relative))), decimal(String(usual.mm)));
  if (compare(minus(readMm, nominal), most) <= 0 && compare(minus(nominal, readMm), most) <= 0) return [];
  const slip = slipOf(readMm, nominal);
  const within = usual.relative > 0 ? `${usual.relative * 100} %` : `${usual.mm} mm`;
  const limit = `usually within ${within} of the ${nominalMm} mm ordered${slip === null ? '' : `; it looks like ${slip.because}`}`;
  return [{ tier: 'implausible', field, value: printed, limit }];
}

/**
 * What is out of specification among the lines of an evaluation of `sourcedReadings`: each line is told of the reading it
 * judges, also where several requirements judge the same one.
 */
export function outOfSpecification(lines: readonly EvaluationLine[], readings: readonly CheckReading[]): Finding[] {
  const printedIn = new Map(readings.map(({ printed }, index) => [fieldOf(index), printed]));
  return lines.flatMap(({ verdict, limits, source }): Finding[] => {
    const field = source?.label ?? '';
    const value = printedIn.get(field);
    if (value === undefined) return [];
    if (verdict === 'does-not-conform') return [{ tier: 'out-of-specification', field, value, limit: limits }];
    return verdict === 'inside-guard-band' ? [{ tier: 'noted', field, value, limit: `${limits}: inside the guard band` }] : [];
  });
}
