import { microseconds } from '#libs/persistence';
import type { DeviationPermit } from '../permits/deviation-permit.entity.js';
import type { CoilDecision } from './coil-decision.entity.js';

export const COIL_STATES = ['not-decided', 'held', 'accepted', 'accepted-under-concession', 'rejected', 'returned'] as const;
export type CoilState = (typeof COIL_STATES)[number];

const STATE_AFTER: Readonly<Record<CoilDecision['decision'], CoilState>> = {
  hold: 'held', accept: 'accepted', 'accept-under-concession': 'accepted-under-concession', reject: 'rejected', return: 'returned',
};

/** Where a coil stands. */
export interface CoilStanding {
  readonly state: CoilState;
  /** The decision that stands; null before the first. */
  readonly decision: CoilDecision | null;
  /** Every permit that stands on record, run out or not. */
  readonly permits: readonly DeviationPermit[];
  /** Those of them that hold at the instant asked about, each for its string: not run out, and not ended by a decision since. */
  readonly validPermits: readonly DeviationPermit[];
  /** Whether pipe may be made of it: accepted, or permitted for some string. */
  readonly isUsable: boolean;
}

/** The standing of a coil at an instant from its decisions, in any order, and its permits. */
export function standingOf(decisions: readonly CoilDecision[], permits: readonly DeviationPermit[], at: string): CoilStanding {
  const decision = decisions.reduce<CoilDecision | null>((last, one) => (last === null || one.sequence > last.sequence ? one : last), null);
  const state = decision === null ? 'not-decided' : STATE_AFTER[decision.decision];
  const validPermits = permits.filter(({ observedAt, validUntil, enteredAt }) =>
    microseconds(observedAt) <= microseconds(at) && microseconds(validUntil) > microseconds(at)
    && (decision === null || microseconds(enteredAt) > microseconds(decision.knownFrom)));
  const isAccepted = state === 'accepted' || state === 'accepted-under-concession';
  return { state, decision, permits, validPermits, isUsable: isAccepted || validPermits.length > 0 };
}
