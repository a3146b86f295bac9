import { microseconds } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { TestSampleInput } from './test-sample.dto.js';
import type { CustodyStep, TestSample } from './test-sample.entity.js';

export type SampleOrigin = Pick<TestSample, 'coilId' | 'coilEnd' | 'stopFootageMm' | 'stopSide' | 'seamEventId' | 'footageMm' | 'spliceId'>;

const ORIGINS = ['coilId', 'stopFootageMm', 'footageMm', 'spliceId'] as const;

/** Where it was cut, as columns. */
export function originOf(input: TestSampleInput): SampleOrigin {
  const { coilId = null, coilEnd = null, stopFootageMm = null, stopSide = null, seamEventId = null, footageMm = null, spliceId = null } = input;
  return { coilId, coilEnd, stopFootageMm, stopSide, seamEventId, footageMm, spliceId };
}

/** What contradicts itself in where a sample was cut; `footageLimitMm` is that of its string. */
export function originFaults(origin: SampleOrigin, footageLimitMm: number): FieldProblem[] {
  const { coilId, coilEnd, stopFootageMm, stopSide, seamEventId } = origin;
  const given = ORIGINS.filter((field) => origin[field] !== null);
  const one = 'one origin: the end of a coil, a side of a stop, a footage, or a splice';
  return [
    ...(given.length === 0 ? [{ field: 'coilId', value: null, limit: one }] : []),
    ...(given.length > 1 ? given.map((field) => ({ field, value: origin[field], limit: one })) : []),
    ...((coilId === null) === (coilEnd === null) ? [] : [{ field: 'coilEnd', value: coilEnd, limit: 'the end of the coil, beside the coil and only there' }]),
    ...((stopFootageMm === null) === (stopSide === null) ? [] : [{ field: 'stopSide', value: stopSide, limit: 'the side of the stop, beside its footage and only there' }]),
    ...(seamEventId === null || stopFootageMm !== null ? [] : [{ field: 'seamEventId', value: seamEventId, limit: 'the record of the stop, beside its footage and only there' }]),
    ...(['stopFootageMm', 'footageMm'] as const).flatMap((field): FieldProblem[] => {
      const value = origin[field];
      return value === null || value < footageLimitMm ? [] : [{ field, value, limit: `below the ${footageLimitMm} mm at which the string ends` }];
    }),
  ];
}

/** Steps of custody out of order, or before the sample was taken. */
export function custodyFaults(takenAt: string, custody: readonly Pick<CustodyStep, 'at'>[]): FieldProblem[] {
  return custody.flatMap(({ at }, index): FieldProblem[] => {
    const before = custody[index - 1]?.at ?? takenAt;
    if (microseconds(at) >= microseconds(before)) return [];
    return [{ field: `custody[${index}].at`, value: at, limit: `not before ${before}, ${index === 0 ? 'when it was taken' : 'the step before'}` }];
  });
}

/** A sample that left from elsewhere than where it had come to: nobody says who had it in between. Taken, and marked. */
export function custodyGaps(custody: readonly CustodyStep[]): Finding[] {
  return custody.slice(1).flatMap(({ from }, index): Finding[] => {
    const arrived = custody[index]?.to ?? from;
    if (from.trim().toLowerCase() === arrived.trim().toLowerCase()) return [];
    return [{ tier: 'noted', field: `custody[${index + 1}].from`, value: from, limit: `where it had come to: ${arrived}` }];
  });
}

/** A stop that its record puts at another footage than the sample: the record's counts. Taken, and marked. */
export function otherFootage(stopFootageMm: number | null, recordedMm: number): Finding[] {
  return stopFootageMm === null || stopFootageMm === recordedMm ? [] : [{ tier: 'noted', field: 'stopFootageMm', value: String(stopFootageMm), limit: `where the stop is recorded: ${recordedMm} mm` }];
}
