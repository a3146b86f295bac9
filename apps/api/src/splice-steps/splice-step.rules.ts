import { judge, parseReading } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import { isUnitName, UNITS } from '#libs/units';
import { impossibleFiles, photosOf } from '../files/named-files.js';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { SpliceStepInput } from './splice-step.dto.js';
import type { StepReading } from './splice-step.entity.js';

/** Readings are held against their limits as they are; a guard band is the control plan's to ask for. */
const AS_READ = { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' } as const;

/** What cannot be in a step, field by field: digits that are none, a unit of something else, a name that is no file's. */
export function impossibleInStep({ readings, photoSha256s }: Pick<SpliceStepInput, 'readings' | 'photoSha256s'>): FieldProblem[] {
  return [
    ...readings.flatMap(({ measured, printed, unit }, index): FieldProblem[] => {
      const read = parseReading({ printed, unit, multiplier: '1', expandedU: null });
      return [
        ...('fault' in read ? [{ field: `readings[${index}].printed`, value: printed, limit: read.fault }] : []),
        ...(isUnitOf(measured, unit) ? [] : [{ field: `readings[${index}].unit`, value: unit, limit: measured.startsWith('hardness') ? 'a hardness scale' : 'a unit of length' }]),
      ];
    }),
    ...impossibleFiles(photosOf(photoSha256s)),
  ];
}

const isUnitOf = (measured: string, unit: string): boolean =>
  (measured.startsWith('hardness') ? !isUnitName(unit) : isUnitName(unit) && UNITS[unit].dimension === 'length');

/** What of a step does not go together. */
export function contradictionsInStep({ stage, outcome, station, readings, examinations }: SpliceStepInput): FieldProblem[] {
  const isSighting = stage === 'station-sighting';
  return [
    ...(isSighting === (station == null) ? [{ field: 'station', value: station ?? null, limit: isSighting ? 'the station where it was seen' : 'a station only of a sighting' }] : []),
    ...readings.flatMap(({ min, max }, index) =>
      (min != null && max != null && compare(decimal(min), decimal(max)) > 0 ? [{ field: `readings[${index}].max`, value: max, limit: `at least the ${min} of min` }] : [])),
    ...(isSighting || stage === 'after-forming' ? examinations : []).flatMap(({ method }, index) =>
      (method === 'RT' ? [{ field: `examinations[${index}].method`, value: method, limit: 'radiography only while it is flat strip' }] : [])),
    ...(outcome === 'accepted' ? examinations : []).flatMap((examination, index) =>
      (examination.outcome === 'accepted' ? [] : [{ field: 'outcome', value: outcome, limit: `held or rejected, as examination ${index + 1} is ${examination.outcome}` }])),
  ];
}

/** What lies beyond its limit: taken as read, and marked. */
export function beyondLimits(readings: readonly StepReading[]): Finding[] {
  return readings.flatMap(({ measured, printed, unit, min, max }, index): Finding[] => {
    if (min === null && max === null) return [];
    const { verdict } = judge({ min, max, unit }, AS_READ, { toDecimals: null, expandedU: null })({ printed, unit, multiplier: '1', expandedU: null });
    if (verdict === 'conforms') return [];
    const limit = `${measured} ${min === null ? '' : `at least ${min} `}${max === null ? '' : `at most ${max} `}${unit}`;
    return [{ tier: verdict === 'does-not-conform' ? 'out-of-specification' : 'noted', field: `readings[${index}].printed`, value: printed, limit }];
  });
}
