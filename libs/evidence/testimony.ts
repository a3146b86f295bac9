import type { Interval } from '#libs/intervals';

/**
 * What a record says of pipe, for one demand. `failed` and `suspect` speak against it, `provisional` and `confirmed` for it;
 * `waived` is a person's word that stands in where they do not; `awaited` says why nothing can be there yet, and proves nothing.
 */
export const SAYINGS = ['failed', 'suspect', 'provisional', 'confirmed', 'waived', 'awaited'] as const;
export type Saying = (typeof SAYINGS)[number];

/** A record's word on an interval of footage. */
export interface Testimony<R> extends Interval {
  readonly says: Saying;
  /** From this footage on the pipe had not passed the hang-off when the record was entered; below it the word came late. Whole mm. */
  readonly onTimeFromMm: number;
  readonly because: string;
  /** The records that say so; none where the absence of any says it. */
  readonly records: readonly R[];
}
