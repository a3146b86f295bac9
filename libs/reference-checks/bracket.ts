import { checkMoments, type ReferenceCheck } from './reference-check.js';

/** What the checks around it make of an inspection; the worse, the later in this list. */
export const BRACKET_STATES = ['confirmed', 'provisional', 'suspect'] as const;
export type BracketState = (typeof BRACKET_STATES)[number];

/**
 * Why: passed before and after; passed before and none after yet; the next one failed; the one before failed and none was
 * passed since; none was made before, which no later check can make good.
 */
export type BracketReason = 'passed-before-and-after' | 'none-after' | 'failed-after' | 'failed-before' | 'none-before';

/** The time between two instants of checks that follow each other, and what is known of it. */
export interface Bracket<C> {
  /** Minus infinity before the first check, infinity after the last. */
  readonly fromUs: number;
  readonly toUs: number;
  readonly state: BracketState;
  readonly reason: BracketReason;
  /** The checks that say so, of the instants at both ends. */
  readonly before: readonly C[];
  readonly after: readonly C[];
}

/**
 * All time, cut at the checks that count. Between two that passed it is confirmed; after the last one, if it passed,
 * provisional; suspect back from a failed one to the last that passed, and after it until the next that passed. What came
 * before the first check is suspect too: nothing shows that the channel saw its reflectors. The order of the list plays no part.
 * Common practice in inspection of tubes; ISO 10893 asks for re-inspection back to the last good check (from memory: see the edition in force).
 */
export function brackets<C extends ReferenceCheck>(checks: readonly C[]): readonly Bracket<C>[] {
  const moments = checkMoments(checks);
  return Array.from({ length: moments.length + 1 }, (_, index) => {
    const [before, after] = [moments[index - 1], moments[index]];
    return {
      fromUs: before?.atUs ?? Number.NEGATIVE_INFINITY, toUs: after?.atUs ?? Number.POSITIVE_INFINITY, ...judged(before?.outcome, after?.outcome),
      before: before?.checks ?? [], after: after?.checks ?? [],
    };
  });
}

function judged(before: 'passed' | 'failed' | undefined, after: 'passed' | 'failed' | undefined): { readonly state: BracketState; readonly reason: BracketReason } {
  if (after === 'failed') return { state: 'suspect', reason: 'failed-after' };
  if (before === 'failed') return { state: 'suspect', reason: 'failed-before' };
  if (before === undefined) return { state: 'suspect', reason: 'none-before' };
  return after === 'passed' ? { state: 'confirmed', reason: 'passed-before-and-after' } : { state: 'provisional', reason: 'none-after' };
}

export const severity = (state: BracketState): number => BRACKET_STATES.indexOf(state);
