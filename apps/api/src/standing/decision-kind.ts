/** What can be decided on a coil. */
export const DECISIONS = ['hold', 'accept', 'accept-under-concession', 'reject', 'return'] as const;
export type DecisionKind = (typeof DECISIONS)[number];
