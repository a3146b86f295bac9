import type { IndicationEvaluation } from './indication-evaluation.entity.js';

type Evaluated = Pick<IndicationEvaluation, 'observedAt' | 'verdict' | 'repairId' | 'cutOutId'>;

/**
 * Why an indication is open, in words; null when its last evaluation settles it. A decision to repair or to cut out settles it
 * once the repair or cut-out is linked. Of several evaluations at one instant any that is open keeps it open.
 * @param evaluations those that stand
 */
export function openOfIndication(evaluations: readonly Evaluated[]): string | null {
  if (evaluations.length === 0) return 'nobody evaluated it';
  const open = lastOf(evaluations).map(openOf).filter((words) => words !== null);
  return open.length === 0 ? null : [...new Set(open)].join('; ');
}

/** Whether an evaluation that stands last wants the pipe repaired or cut out, and neither was done. */
export const isRejected = (evaluations: readonly Evaluated[]): boolean =>
  lastOf(evaluations).some(({ verdict, repairId, cutOutId }) => (verdict === 'repair' && repairId === null) || (verdict === 'cut-out' && cutOutId === null));

function lastOf(evaluations: readonly Evaluated[]): Evaluated[] {
  const lastAt = evaluations.reduce((last, { observedAt }) => (observedAt > last ? observedAt : last), '');
  return evaluations.filter(({ observedAt }) => observedAt === lastAt);
}

/** When the evaluation that settles an indication was made; null while nothing does. */
export function settledAtOf(evaluations: readonly Evaluated[]): string | null {
  if (openOfIndication(evaluations) !== null) return null;
  return evaluations.reduce((last, { observedAt }) => (observedAt > last ? observedAt : last), '');
}

function openOf({ verdict, repairId, cutOutId }: Evaluated): string | null {
  switch (verdict) {
    case 'accept':
    case 'mark':
      return null;
    case 'repair':
      return repairId === null ? 'to be repaired, and no repair is linked' : null;
    case 'cut-out':
      return cutOutId === null ? 'to be cut out, and no cut-out is linked' : null;
    case 'hold':
      return 'on hold';
    case 're-inspect':
      return 'to be inspected again';
  }
}
