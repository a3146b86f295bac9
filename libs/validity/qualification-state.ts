import type { ScopeFinding } from './scope.js';

/**
 * What can be said of a qualification at an event, best to worst: what is mended soonest comes first, and a certificate
 * for other work stands last. The order is our own choice.
 */
export const QUALIFICATION_STATES = [
  'valid', 'vision-lapsed', 'not-authorised', 'unconfirmed', 'expired', 'not-yet', 'withdrawn', 'out-of-scope',
] as const;
export type QualificationState = (typeof QUALIFICATION_STATES)[number];

/** One reason why a qualification does not cover an event. */
export interface QualificationReason {
  readonly state: Exclude<QualificationState, 'valid'>;
  readonly words: string;
  /** What is out of scope; null for reasons of time. */
  readonly scope: ScopeFinding | null;
}

/** Place of the state in the order, 0 for valid. */
export function gravity(state: QualificationState): number {
  return QUALIFICATION_STATES.indexOf(state);
}
