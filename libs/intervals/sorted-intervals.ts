import type { Interval } from './interval.js';
import { interval } from './interval.js';

/*
 * Sweeps over lists of intervals sorted by `fromMm`. A list is canonical when it is also disjoint with a gap of at
 * least 1 mm between neighbours; every result here is canonical. Each sweep passes once over its lists.
 */

/** Joins overlapping and touching intervals of a list sorted by `fromMm`. Cost O(n). */
export function coalesce(sorted: Iterable<Interval>): Interval[] {
  const result: Interval[] = [];
  let open: Interval | null = null;
  for (const next of sorted) {
    if (open === null) {
      open = next;
    } else if (next.fromMm > open.toMm) {
      result.push(open);
      open = next;
    } else if (next.toMm > open.toMm) {
      open = interval(open.fromMm, next.toMm);
    }
  }
  if (open !== null) result.push(open);
  return result;
}

/** Both sorted lists in one sorted sequence, not yet joined. Cost O(n + m). */
export function* mergeSorted(left: readonly Interval[], right: readonly Interval[]): Generator<Interval> {
  let rightIndex = 0;
  for (const fromLeft of left) {
    for (let next = right[rightIndex]; next !== undefined && next.fromMm < fromLeft.fromMm; next = right[rightIndex]) {
      yield next;
      rightIndex += 1;
    }
    yield fromLeft;
  }
  yield* right.slice(rightIndex);
}

/** What two canonical lists share. Cost O(n + m). */
export function intersectSorted(left: readonly Interval[], right: readonly Interval[]): Interval[] {
  const result: Interval[] = [];
  let leftIndex = 0;
  let rightIndex = 0;
  for (;;) {
    const a = left[leftIndex];
    const b = right[rightIndex];
    if (a === undefined || b === undefined) return result;
    const fromMm = Math.max(a.fromMm, b.fromMm);
    const toMm = Math.min(a.toMm, b.toMm);
    if (fromMm < toMm) result.push(interval(fromMm, toMm));
    if (a.toMm < b.toMm) leftIndex += 1;
    else rightIndex += 1;
  }
}

/** What the canonical list `kept` has and the canonical list `removed` has not. Cost O(n + m). */
export function subtractSorted(kept: readonly Interval[], removed: readonly Interval[]): Interval[] {
  const result: Interval[] = [];
  let removedIndex = 0;
  for (const { fromMm, toMm } of kept) {
    let startMm = fromMm;
    for (let hole = removed[removedIndex]; hole !== undefined && hole.fromMm < toMm; hole = removed[removedIndex]) {
      if (startMm < hole.fromMm) result.push(interval(startMm, hole.fromMm));
      startMm = Math.max(startMm, hole.toMm);
      if (hole.toMm > toMm) break; // it reaches past this interval, so the next one may meet it too
      removedIndex += 1;
    }
    if (startMm < toMm) result.push(interval(startMm, toMm));
  }
  return result;
}

/** Whether every interval of `inner` lies inside one interval of `outer`; both canonical. Cost O(n + m). */
export function coversSorted(outer: readonly Interval[], inner: readonly Interval[]): boolean {
  let outerIndex = 0;
  return inner.every(({ fromMm, toMm }) => {
    let candidate = outer[outerIndex];
    while (candidate !== undefined && candidate.toMm <= fromMm) {
      outerIndex += 1;
      candidate = outer[outerIndex];
    }
    return candidate !== undefined && candidate.fromMm <= fromMm && candidate.toMm >= toMm;
  });
}

/** The first interval of a canonical list that ends beyond `pointMm`, if any: the only one that can hold it. Cost O(log n). */
export function firstEndingAfter(canonical: readonly Interval[], pointMm: number): Interval | undefined {
  let low = 0;
  let high = canonical.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((canonical[middle] as Interval).toMm > pointMm) high = middle;
    else low = middle + 1;
  }
  return canonical[low];
}
