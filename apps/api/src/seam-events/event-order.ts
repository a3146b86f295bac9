import { microseconds } from '#libs/persistence';
import type { SeamEventKind } from './seam-event.dto.js';

interface Event {
  readonly id: string;
  readonly event: SeamEventKind;
  readonly observedAt: string;
}

/**
 * The events of a line in the order in which they can have happened: by their times; of one instant (papers give minutes) those
 * that change what the line does come first, in turn. A line that ran stops and runs again, one that stood starts and stops; before
 * all others it ran, unless one of that instant is its start. Events that leave it as it is come by their ids.
 */
export function orderOfLine<E extends Event>(events: readonly E[]): E[] {
  const left = [...events].sort((one, other) => microseconds(one.observedAt) - microseconds(other.observedAt) || (one.id < other.id ? -1 : 1));
  const ordered: E[] = [];
  let runs: boolean | null = null;
  while (left.length > 0) {
    const later = left.findIndex(({ observedAt }) => observedAt !== left[0]?.observedAt);
    const together = later < 0 ? left : left.slice(0, later);
    const before: boolean = runs ?? !together.some(({ event }) => event === 'start');
    const at = Math.max(0, together.findIndex(({ event }) => event === 'set-up-change' || (event === 'stop') === before));
    const [next] = left.splice(at, 1);
    if (next === undefined) break;
    if (next.event !== 'set-up-change') runs = next.event !== 'stop';
    ordered.push(next);
  }
  return ordered;
}
