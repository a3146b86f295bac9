import { microseconds } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { ExaminationInput } from './examination.dto.js';

type Said = Pick<ExaminationInput, 'reflector' | 'reflectorSizeMm' | 'spliceId' | 'rejoinId' | 'repairId'>;

/** What of an examination does not go together: half a sensitivity, and more than one thing that it is of. */
export function examinationFaults({ reflector = null, reflectorSizeMm = null, spliceId, rejoinId, repairId }: Said): FieldProblem[] {
  const of = Object.entries({ spliceId, rejoinId, repairId }).filter((entry): entry is [string, string] => entry[1] != null);
  return [
    ...(reflector !== null && reflectorSizeMm === null ? [{ field: 'reflectorSizeMm', value: null, limit: 'the size of the reflector' }] : []),
    ...(reflector === null && reflectorSizeMm !== null ? [{ field: 'reflector', value: null, limit: 'the kind of reflector that has this size' }] : []),
    ...of.slice(1).map(([field, value]) => ({ field, value, limit: 'at most one of splice, re-join and repair' })),
  ];
}

/** An examination that names a repair though it does not come after it is taken and marked: it says nothing of it. */
export function notAfter(observedAt: string, repairedAt: string): Finding[] {
  if (microseconds(observedAt) > microseconds(repairedAt)) return [];
  return [{ tier: 'noted', field: 'observedAt', value: observedAt, limit: `after the repair of ${repairedAt}: what comes before it, or at its instant, says nothing of it` }];
}
