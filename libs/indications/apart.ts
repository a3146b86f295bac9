import type { Interval } from '#libs/intervals';

/** Length between two intervals, mm: 0 when they touch, negative when they share pipe. */
export function apartMm(one: Interval, other: Interval): number {
  return Math.max(one.fromMm - other.toMm, other.fromMm - one.toMm);
}

/** Intervals that belong together, and the pipe from the first to the last of them. */
export interface Linked<T> {
  fromMm: number;
  toMm: number;
  readonly members: T[];
}

/** Groups of intervals linked by being nearer to each other than `withinMm` (0: by sharing pipe), all in order of footage. Cost O(n log n). */
export function linkedGroups<T extends Interval>(intervals: readonly T[], withinMm: number): readonly Linked<T>[] {
  const groups: Linked<T>[] = [];
  for (const one of intervals.toSorted((a, b) => a.fromMm - b.fromMm || a.toMm - b.toMm)) {
    const last = groups.at(-1);
    if (last === undefined || one.fromMm - last.toMm >= withinMm) groups.push({ fromMm: one.fromMm, toMm: one.toMm, members: [one] });
    else {
      last.members.push(one);
      last.toMm = Math.max(last.toMm, one.toMm);
    }
  }
  return groups;
}
