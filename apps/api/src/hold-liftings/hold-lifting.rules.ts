import { microseconds } from '#libs/persistence';
import type { Hold } from '../holds/hold.entity.js';
import type { Finding } from '../records/plausibility.js';

/** Who lifts, who keyed that, and when. */
export interface Lifting {
  readonly doneBy: string;
  readonly keyedBy: string;
  readonly observedAt: string;
}

/**
 * A hold lifted by who set it, for whatever reason, is marked, and so is one person's hand in both papers: paper is keyed by who
 * is there. A lifting from before the hold is asked about.
 */
export function liftingFindings({ doneBy, keyedBy, observedAt }: Lifting, hold: Pick<Hold, 'id' | 'doneBy' | 'keyedBy' | 'observedAt'>): Finding[] {
  const isOwn = doneBy === hold.doneBy;
  const isEarly = microseconds(observedAt) < microseconds(hold.observedAt);
  return [
    ...(isOwn ? [{ tier: 'noted', field: 'doneBy', value: doneBy, limit: 'another person than the one who set the hold' } as const] : []),
    ...(!isOwn && keyedBy === hold.doneBy ? [{ tier: 'noted', field: 'keyedBy', value: keyedBy, limit: 'keyed by another person than the one who set the hold' } as const] : []),
    ...(!isOwn && hold.keyedBy === doneBy ? [{ tier: 'noted', field: 'holdId', value: hold.id, limit: 'a hold that was keyed by another person than the one who lifts it' } as const] : []),
    ...(isEarly ? [{ tier: 'implausible', field: 'observedAt', value: observedAt, limit: `not before the hold was set, ${hold.observedAt}` } as const] : []),
  ];
}
