import { microseconds } from '#libs/persistence';
import type { HandoverAcceptance } from '../handover-acceptances/handover-acceptance.entity.js';
import type { Handover } from '../handovers/handover.entity.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import type { StopWithEnd } from '../seam-stops/stop-ends.js';
import type { Shift } from '../shifts/shift.entity.js';

type Times = Pick<Shift, 'observedAt' | 'until'>;
type Event = Pick<SeamEvent, 'observedAt'>;

/** True when the line stood at some moment of the shift: a stop lasts from its record up to the next start or restart. */
export function standsIn({ stop, end }: StopWithEnd<Event>, { observedAt, until }: Times): boolean {
  const beginsLater = until !== null && microseconds(stop.observedAt) >= microseconds(until);
  const endedBefore = end !== null && microseconds(end.observedAt) <= microseconds(observedAt);
  return !beginsLater && !endedBefore;
}

/** True when the line still stood at the end of the shift, or stands in one that runs. */
export function outlasts(end: Event | null, { until }: Times): boolean {
  return end === null || (until !== null && microseconds(end.observedAt) > microseconds(until));
}

/** A handover with what was said to it, if anything was. */
export interface GivenHandover {
  readonly handover: Pick<Handover, 'observedAt' | 'items'>;
  readonly acceptance: Pick<HandoverAcceptance, 'items'> | null;
}

/** What became of a handover. */
export function outcomeOf({ acceptance }: Pick<GivenHandover, 'acceptance'>): 'not-accepted' | 'partly' | 'accepted' {
  if (acceptance === null) return 'not-accepted';
  return acceptance.items.every(({ accepted }) => accepted) ? 'accepted' : 'partly';
}

/** What is open of a shift: that it has no end or no handover, a handover nobody accepted, each item that was refused. */
export function openOfShift({ until }: Times, handovers: readonly GivenHandover[]): string[] {
  return [
    ...(until === null ? ['the shift has no end on record'] : []),
    ...(handovers.length === 0 ? ['no handover is on record'] : []),
    ...handovers.flatMap(({ handover: { observedAt }, acceptance }) => {
      if (acceptance === null) return [`the handover of ${observedAt} was accepted by nobody`];
      const refused = acceptance.items.filter(({ accepted }) => !accepted);
      return refused.map(({ item, words }) => `item ${item} of the handover of ${observedAt} was refused: ${words ?? ''}`);
    }),
  ];
}
