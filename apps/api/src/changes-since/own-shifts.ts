import { microseconds } from '#libs/persistence';
import type { Shift } from '../shifts/shift.entity.js';

type Times = Pick<Shift, 'observedAt' | 'until'>;

/** The last shift of somebody that had ended at `at`, and those that began later or at the same time and have not. */
export function ownShifts<S extends Times>(shifts: readonly S[], at: string): { last: (S & { readonly until: string }) | null; withoutEnd: S[] } {
  const ended = shifts.filter((shift): shift is S & { readonly until: string } => shift.until !== null && microseconds(shift.until) <= microseconds(at));
  const last = ended.reduce<(typeof ended)[number] | null>((latest, one) => (latest === null || microseconds(one.until) > microseconds(latest.until) ? one : latest), null);
  const isLater = ({ observedAt }: Times): boolean => last === null || microseconds(observedAt) >= microseconds(last.observedAt);
  return { last, withoutEnd: shifts.filter((shift) => !(ended as S[]).includes(shift) && isLater(shift)) };
}
