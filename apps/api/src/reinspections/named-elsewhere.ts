import type { IntervalSet } from '#libs/intervals';
import type { RecordLink } from '../trace/trace.dto.js';

/** Records that name a splice or re-join and do not lie on its pipe, in words: what they saw or did may have been there, and is held against neither place. */
export function namedElsewhere(named: readonly { readonly record: RecordLink; readonly on: IntervalSet }[], pipe: IntervalSet): string[] {
  return named.filter(({ on }) => !on.overlaps(pipe)).map(({ record }) => `${record.label} names it and lies elsewhere: one of the two is wrong`);
}
