/** Which event ended a stop of the line. */
import type { SeamEventKind } from '../seam-events/seam-event.dto.js';

export interface StopWithEnd<E> {
  readonly stop: E;
  /** The next start or restart; null while none is recorded. */
  readonly end: E | null;
  /** Another stop is recorded before the line is said to have run again: an event is missing, or one too many. */
  readonly isRepeated: boolean;
}

/** The stops among the events of one string, each with what ended it. @param events in the order of `orderOfLine` */
export function stopsWithEnds<E extends { readonly event: SeamEventKind }>(events: readonly E[]): StopWithEnd<E>[] {
  return events.flatMap((stop, index) => {
    if (stop.event !== 'stop') return [];
    const later = events.slice(index + 1);
    const end = later.find(({ event }) => event === 'start' || event === 'restart') ?? null;
    return [{ stop, end, isRepeated: later.find(({ event }) => event !== 'set-up-change')?.event === 'stop' }];
  });
}
