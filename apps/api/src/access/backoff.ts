/** How failures to sign in slow down the next try. There is no lock-out for good: waiting always helps. */
export interface BackoffRule {
  /** Tries that fail before the first wait. */
  readonly free: number;
  /** The longest wait, in ms. */
  readonly longestMs: number;
}

/** Failures older than this are forgotten. */
export const WINDOW_MS = 15 * 60_000;

/**
 * Whoever fails on purpose makes the owner of the account wait too; so the longest wait of an account is short. It
 * still leaves at most some 1,500 guesses a day at a password of 15 characters. Both figures are our own choice.
 */
export const ACCOUNT_RULE: BackoffRule = { free: 4, longestMs: 60_000 };
export const ADDRESS_RULE: BackoffRule = { free: 4, longestMs: WINDOW_MS };

/**
 * Time to wait, in ms, before another try counts: none up to `free` failures, then 1 s, 2 s, 4 s … after the latest.
 * `failedAtMs` and `nowMs` are times on one clock, in ms.
 */
export function waitMs(failedAtMs: readonly number[], nowMs: number, rule: BackoffRule): number {
  const recent = failedAtMs.filter((at) => nowMs - at < WINDOW_MS);
  if (recent.length <= rule.free) return 0;
  const wait = Math.min(rule.longestMs, 1000 * 2 ** Math.min(30, recent.length - rule.free - 1));
  return Math.max(0, Math.max(...recent) + wait - nowMs);
}
