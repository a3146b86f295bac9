import type { ConformityRules } from '#libs/conformity';
import type { Calibration, PointReading, Qualification, QualifiedEvent } from '#libs/validity';

/** A welder's certificate that asks for nothing but its days, method and thickness, unless said otherwise. */
export function qualification(more: Partial<Qualification> = {}): Qualification {
  return {
    id: 'W-1',
    methods: ['135'],
    level: null,
    scope: [{ kind: 'range', name: 'thickness', min: '3', max: '12', unit: 'mm' }],
    startsOn: '2026-01-15',
    expiresOn: '2028-01-14',
    confirmation: null,
    authorisations: null,
    vision: null,
    withdrawn: null,
    ...more,
  };
}

/** A weld at noon UTC of the day, local time the same, within the scope above. */
export function weldOn(day: string, more: Partial<QualifiedEvent> = {}): QualifiedEvent {
  return {
    instant: `${day}T12:00:00Z`,
    offsetMinutes: 0,
    method: '135',
    level: null,
    variables: [{ name: 'thickness', value: '6.00', unit: 'mm' }],
    ...more,
  };
}

export const SIMPLE: ConformityRules = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' };
export const GUARDED: ConformityRules = { ...SIMPLE, decision: 'guarded-acceptance' };

/** A deviation at 5 mm with ± 0.02 mm allowed. */
export function point(deviation: string, more: Partial<PointReading> = {}): PointReading {
  return { point: '5.00 mm', deviation, min: '-0.02', max: '0.02', unit: 'mm', expandedU: '0.005', ...more };
}

/** A calibration at noon UTC of the day, found and left by one deviation each, judged by simple acceptance. */
export function calibration(day: string, found: string, left: string, more: Partial<Calibration> = {}): Calibration {
  return {
    id: `cal ${day}`,
    instant: `${day}T12:00:00Z`,
    offsetMinutes: 0,
    asFound: found === 'not-taken' ? 'not-taken' : [point(found)],
    asLeft: left === 'not-adjusted' ? 'not-adjusted' : [point(left)],
    rules: SIMPLE,
    dueOn: null,
    ...more,
  };
}
