import { judge, parseReading, type ConformityRules } from '#libs/conformity';
import { compare, decimal } from '#libs/exact';
import type { Calibration, PointReading } from '#libs/validity';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { CalibrationInput, CalibrationPointPart } from './calibration.dto.js';
import type { CalibrationVersion } from './calibration.entity.js';

/** A point as it is kept. */
export function pointReading({ point, deviation, min, max, unit, expandedU }: CalibrationPointPart): PointReading {
  return { point, deviation, min, max, unit, expandedU: expandedU ?? null };
}

/** What contradicts itself in a calibration. */
export function calibrationFaults({ instrumentId, referenceInstrumentId, asFound, asLeft }: CalibrationInput): FieldProblem[] {
  return [
    ...(asFound == null && asLeft == null ? [{ field: 'asFound', value: null, limit: 'how it was found, how it was left, or both' }] : []),
    ...(referenceInstrumentId === instrumentId ? [{ field: 'referenceInstrumentId', value: referenceInstrumentId, limit: 'another instrument than the one calibrated' }] : []),
    ...eachPoint({ asFound, asLeft }, ({ min, max }, field) =>
      (compare(decimal(min), decimal(max)) >= 0 ? [{ field: `${field}.max`, value: max, limit: `more than the ${min} of min` }] : [])),
  ];
}

/** Digits that are none. */
export function unreadableDeviations(points: Pick<CalibrationInput, 'asFound' | 'asLeft'>): FieldProblem[] {
  return eachPoint(points, ({ deviation, unit }, field) => {
    const read = parseReading({ printed: deviation, unit, multiplier: '1', expandedU: null });
    return 'fault' in read ? [{ field: `${field}.deviation`, value: deviation, limit: read.fault }] : [];
  });
}

function eachPoint({ asFound, asLeft }: Pick<CalibrationInput, 'asFound' | 'asLeft'>, faults: (point: CalibrationPointPart, field: string) => FieldProblem[]): FieldProblem[] {
  return [
    ...(asFound ?? []).flatMap((point, index) => faults(point, `asFound[${index}]`)),
    ...(asLeft ?? []).flatMap((point, index) => faults(point, `asLeft[${index}]`)),
  ];
}

/** The rules that a calibration states for its deviations. They are compared as they are: nobody rounds them. */
export function rulesOf({ decision, guardFactor }: Pick<CalibrationVersion, 'decision' | 'guardFactor'>): ConformityRules {
  return { rounding: 'absolute', decision, guardFactor };
}

/** What was out of tolerance: taken as it is, and marked. */
export function outOfTolerance(calibration: Pick<CalibrationVersion, 'asFound' | 'asLeft' | 'decision' | 'guardFactor'>): Finding[] {
  const rules = rulesOf(calibration);
  const found = (points: readonly PointReading[] | null, field: string): Finding[] => (points ?? []).flatMap((one, index): Finding[] => {
    const { deviation, min, max, unit, expandedU } = one;
    const { verdict } = judge({ min, max, unit }, rules, { toDecimals: null, expandedU: null })({ printed: deviation, unit, multiplier: '1', expandedU });
    if (verdict === 'conforms') return [];
    const tier = verdict === 'does-not-conform' ? 'out-of-specification' : 'noted';
    return [{ tier, field: `${field}[${index}].deviation`, value: deviation, limit: `${min} to ${max} ${unit} at ${one.point}${tier === 'noted' ? ': not shown to be within' : ''}` }];
  });
  return [...found(calibration.asFound, 'asFound'), ...found(calibration.asLeft, 'asLeft')];
}

/** A calibration as its instrument's standing is judged by it. */
export function judgedCalibration(row: CalibrationVersion): Calibration {
  const { id, observedAt, asFound, asLeft, dueOn } = row;
  return { id, instant: observedAt, offsetMinutes: 0, asFound: asFound ?? 'not-taken', asLeft: asLeft ?? 'not-adjusted', rules: rulesOf(row), dueOn };
}
