import { textOrder } from './text-order.js';

/** Why a check was made. Any check fulfils any occasion that it comes in time for, whatever its reason. */
export const CHECK_REASONS = ['start', 'interval', 'operator-change', 'set-up-change', 'end', 'other'] as const;
export type CheckReason = (typeof CHECK_REASONS)[number];

/** A run of the channel over its reference standard. */
export interface ReferenceCheck {
  readonly id: string;
  /** Microseconds since 1970 UTC. */
  readonly atUs: number;
  /** Footage under the probe at the check as recorded, whole mm; for the reader alone, since time decides what was inspected before and after. */
  readonly footageMm: number;
  /** A void check counts for nothing. */
  readonly outcome: 'passed' | 'failed' | 'void';
  readonly reason: CheckReason;
}

/** All checks of one instant that count. */
export interface CheckMoment<C> {
  readonly atUs: number;
  /** One that failed among them decides: whether the other was better is nobody's to guess. Our own choice, the cautious one. */
  readonly outcome: 'passed' | 'failed';
  /** In order of their ids. */
  readonly checks: readonly C[];
}

/** Checks that count, in order of time, then of their ids. Throws RangeError naming the check on an instant that is no whole number. */
export function checksInOrder<C extends ReferenceCheck>(checks: readonly C[]): readonly C[] {
  const strange = checks.find(({ atUs }) => !Number.isSafeInteger(atUs));
  if (strange !== undefined) throw new RangeError(`check ${strange.id}: atUs is not a whole number: ${strange.atUs}`);
  return checks.filter(({ outcome }) => outcome !== 'void').sort((a, b) => a.atUs - b.atUs || textOrder(a.id, b.id));
}

/** The same, instant by instant. */
export function checkMoments<C extends ReferenceCheck>(checks: readonly C[]): readonly CheckMoment<C>[] {
  const byInstant = new Map<number, C[]>();
  for (const check of checksInOrder(checks)) byInstant.set(check.atUs, [...(byInstant.get(check.atUs) ?? []), check]);
  return [...byInstant].map(([atUs, own]) => ({ atUs, outcome: own.some(({ outcome }) => outcome === 'failed') ? 'failed' : 'passed', checks: own }));
}
