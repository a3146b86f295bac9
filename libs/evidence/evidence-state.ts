/**
 * What stands as evidence for a metre of pipe, worst first. The verdict over several demands is the worst of them, never an
 * average. The order is our own choice: what was seen to be bad, what nobody looked at, what is in doubt, what a later check may
 * still undo, what somebody answers for, what was shown, what the plan does not ask for.
 */
export const EVIDENCE_STATES = ['failed', 'missing', 'suspect', 'provisional', 'conceded', 'confirmed', 'not-required'] as const;
export type EvidenceState = (typeof EVIDENCE_STATES)[number];

/** Place in the order of states: the smaller, the worse. */
export const rankOf = (state: EvidenceState): number => EVIDENCE_STATES.indexOf(state);

export const isWorse = (one: EvidenceState, other: EvidenceState): boolean => rankOf(one) < rankOf(other);
