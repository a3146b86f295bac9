import type { Interval } from '#libs/intervals';

export type ArrivalState = 'to-come' | 'due' | 'past' | 'not-known';

/** The greatest footage reached against a gate: before, in or past it; not known without readings. */
export function stateOf({ fromMm, toMm }: Interval, reachedMm: number | null): ArrivalState {
  if (reachedMm === null) return 'not-known';
  if (reachedMm < fromMm) return 'to-come';
  return reachedMm < toMm ? 'due' : 'past';
}
