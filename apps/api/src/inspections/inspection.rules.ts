import { refusedField } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import type { InspectionInput } from './inspection.dto.js';

type Said = Pick<InspectionInput, 'kind' | 'value' | 'unit' | 'limitMin' | 'limitMax' | 'clockHours' | 'viewing'>;

/** Refuses an entry that says half of something: a measurement without value or unit, a clock without viewer. */
export function refuseHalfSaid({ kind, value, unit, limitMin, limitMax, clockHours, viewing }: Said): void {
  const measured = value != null;
  if ((kind === 'dimensional') !== measured) {
    throw refusedField('half-said', 'value', value ?? null, 'a value for a dimensional entry, none for a visual one');
  }
  if (measured !== (unit != null)) throw refusedField('half-said', 'unit', unit ?? null, 'the unit of the value');
  if (!measured && (limitMin != null || limitMax != null)) {
    throw refusedField('half-said', 'limitMin', limitMin ?? limitMax, 'limits only beside a value');
  }
  if (limitMin != null && limitMax != null && Number(limitMin) > Number(limitMax)) {
    throw refusedField('reversed-limits', 'limitMax', limitMax, `at least ${limitMin}`);
  }
  if ((clockHours != null) !== (viewing != null)) {
    throw refusedField('half-said', 'viewing', viewing ?? null, 'the viewing direction of the clock position');
  }
}

/** Lengths of pipe and strip, in mm, as the table of usual values has them: asked about outside, refused nowhere. */
const USUAL_MM: readonly { readonly of: RegExp; readonly min: number; readonly max: number }[] = [
  { of: /wall|thickness/i, min: 0.3, max: 40 },
  { of: /diameter/i, min: 10, max: 700 },
  { of: /high-low/i, min: 0, max: 5 },
];

/** A value beyond its limit is taken and marked; one that no such pipe has is asked about once. */
export function inspectionFindings({ characteristic, value, unit, limitMin, limitMax }: InspectionInput): Finding[] {
  if (value == null || unit == null) return [];
  const usual = unit === 'mm' ? USUAL_MM.find(({ of }) => of.test(characteristic)) : undefined;
  const limits = {
    ...(limitMin == null ? {} : { min: Number(limitMin) }),
    ...(limitMax == null ? {} : { max: Number(limitMax) }),
  };
  return [
    ...(usual === undefined ? [] : outside('implausible', 'value', value, { min: usual.min, max: usual.max, unit })),
    ...outside('out-of-specification', 'value', value, { ...limits, unit }),
  ];
}
