import { type Interval, IntervalSet } from '#libs/intervals';
import { linkedGroups } from './apart.js';

/** How the indications of one place changed: `shifted` has both gained and lost pipe. */
export const CHANGES = ['appeared', 'vanished', 'grown', 'shrunk', 'shifted', 'same'] as const;
export type Change = (typeof CHANGES)[number];

export interface Difference<T> {
  readonly change: Change;
  /** What the former rule found there; several where the latter one makes one of them. */
  readonly before: readonly T[];
  /** What the latter rule found there. */
  readonly after: readonly T[];
}

/**
 * What another rule makes of the same samples, place by place in order of footage. Indications that share pipe, one with the
 * other or through a third, are one place; they are compared by the pipe that they cover. Each indication is in one place.
 */
export function differenceOf<T extends Interval>(before: readonly T[], after: readonly T[]): readonly Difference<T>[] {
  const marked = [...before.map((it) => ({ it, isAfter: false })), ...after.map((it) => ({ it, isAfter: true }))];
  const placed = marked.map((one) => ({ fromMm: one.it.fromMm, toMm: one.it.toMm, ...one }));
  return linkedGroups(placed, 0).map(({ members }) => {
    const side = (isAfter: boolean): T[] => members.filter((one) => one.isAfter === isAfter).map(({ it }) => it);
    const [then, now] = [side(false), side(true)];
    return { change: changeOf(IntervalSet.from(then), IntervalSet.from(now)), before: then, after: now };
  });
}

function changeOf(then: IntervalSet, now: IntervalSet): Change {
  if (then.isEmpty) return 'appeared';
  if (now.isEmpty) return 'vanished';
  if (then.equals(now)) return 'same';
  if (now.covers(then)) return 'grown';
  return then.covers(now) ? 'shrunk' : 'shifted';
}
