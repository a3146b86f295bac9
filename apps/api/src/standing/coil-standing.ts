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
  /** Permits that have not run out at the instant asked about. */
  readonly permits: readonly DeviationPermit[];
  /** Whether pipe may be made of it: accepted, or permitted. */
  readonly isUsable: boolean;
}

/** The standing of a coil at an instant from its decisions, in any order, and its permits. */
export function standingOf(decisions: readonly CoilDecision[], permits: readonly DeviationPermit[], at: string): CoilStanding {
  const decision = decisions.reduce<CoilDecision | null>((last, one) => (last === null || one.sequence > last.sequence ? one : last), null);
  const state = decision === null ? 'not-decided' : STATE_AFTER[decision.decision];
  const valid = permits.filter(({ validUntil }) => microseconds(validUntil) > microseconds(at));
  const isAccepted = state === 'accepted' || state === 'accepted-under-concession';
  return { state, decision, permits: valid, isUsable: isAccepted || valid.length > 0 };
}
