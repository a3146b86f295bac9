import { microseconds, normalInstant } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { ExaminationInput } from './examination.dto.js';

type Said = Pick<ExaminationInput, 'method' | 'standsInFor' | 'standInReason' | 'standInBy' | 'reflector' | 'reflectorSizeMm' | 'spliceId' | 'rejoinId' | 'repairId'>;

/**
 * What of an examination does not go together: half a sensitivity, more than one thing that it is of, and standing in for
 * another method without a reason, or by the word of `doneBy`, who made it.
 */
export function examinationFaults(said: Said, doneBy: string): FieldProblem[] {
  const { reflector = null, reflectorSizeMm = null, spliceId, rejoinId, repairId } = said;
  const of = Object.entries({ spliceId, rejoinId, repairId }).filter((entry): entry is [string, string] => entry[1] != null);
  return [
    ...(reflector !== null && reflectorSizeMm === null ? [{ field: 'reflectorSizeMm', value: null, limit: 'the size of the reflector' }] : []),
    ...(reflector === null && reflectorSizeMm !== null ? [{ field: 'reflector', value: null, limit: 'the kind of reflector that has this size' }] : []),
    ...of.slice(1).map(([field, value]) => ({ field, value, limit: 'at most one of splice, re-join and repair' })),
    ...standInFaults(said, doneBy),
  ];
}

function standInFaults({ method, standsInFor, standInReason = null, standInBy = null }: Said, doneBy: string): FieldProblem[] {
  const isAsked = standsInFor.length > 0;
  const limit = isAsked ? 'needed beside the methods that it stands in for' : 'only beside methods that it stands in for';
  return [
    ...(standsInFor.includes(method) ? [{ field: 'standsInFor', value: standsInFor, limit: 'other methods than its own' }] : []),
    ...(isAsked === (standInReason === null) ? [{ field: 'standInReason', value: standInReason, limit }] : []),
    ...(isAsked === (standInBy === null) ? [{ field: 'standInBy', value: standInBy, limit }] : []),
    ...(isAsked && standInBy === doneBy ? [{ field: 'standInBy', value: standInBy, limit: 'another person than who examined' }] : []),
  ];
}

/** An examination that names a repair though it does not come after it is taken and marked: it says nothing of it. */
export function notAfter(observedAt: string, repairedAt: string): Finding[] {
  if (microseconds(observedAt) > microseconds(repairedAt)) return [];
  return [{ tier: 'noted', field: 'observedAt', value: normalInstant(observedAt), limit: `after the repair of ${repairedAt}: what comes before it, or at its instant, says nothing of it` }];
}
