import type { Interval } from './interval.js';
import { checkInterval, interval, wholeMillimetres } from './interval.js';
import { formatMultirange, readMultirange } from './multirange.js';
import {
  coalesce,
  coversSorted,
  firstEndingAfter,
  intersectSorted,
  mergeSorted,
  subtractSorted,
} from './sorted-intervals.js';

/**
 * An immutable set of positions in integer millimetres, held as sorted, disjoint half-open intervals of which no two
 * touch: equal sets have equal `intervals`. Below, n and m are the interval counts of this set and of the other.
 */
export class IntervalSet {
  static readonly empty = new IntervalSet([]);

  /** Sorted by `fromMm`, disjoint, with at least 1 mm between neighbours; frozen. */
  readonly intervals: readonly Interval[];

  private constructor(canonical: Interval[]) {
    this.intervals = Object.freeze(canonical);
  }

  /** The set of the given intervals, in any order, overlapping or not. Throws RangeError as `interval` does. Cost O(k log k). */
  static of(...intervals: Interval[]): IntervalSet {
    const [only, another] = intervals;
    return only === undefined || another !== undefined ? IntervalSet.from(intervals) : new IntervalSet([interval(only.fromMm, only.toMm)]);
  }

  /** As `of`, from any iterable; cost O(k) when it is sorted already. */
  static from(intervals: Iterable<Interval>): IntervalSet {
    const checked: Interval[] = [];
    for (const { fromMm, toMm } of intervals) checked.push(interval(fromMm, toMm));
    checked.sort((a, b) => a.fromMm - b.fromMm);
    return new IntervalSet(coalesce(checked));
  }

  /**
   * The set that PostgreSQL prints as this int8multirange. Throws SyntaxError on any other text, and RangeError on an
   * infinite bound or one beyond the safe integers. Cost O(length of the text).
   */
  static parseMultirange(text: string): IntervalSet {
    return IntervalSet.from(readMultirange(text));
  }

  get isEmpty(): boolean {
    return this.intervals.length === 0;
  }

  /** Sum of the lengths. Throws RangeError when it is beyond the safe integers. Cost O(n). */
  get totalLengthMm(): number {
    const sumMm = this.intervals.reduce((sum, { fromMm, toMm }) => sum + (toMm - fromMm), 0);
    return wholeMillimetres(sumMm, 'totalLengthMm');
  }

  /** The shortest interval that covers this set; null when it is empty. Cost O(1). */
  hull(): Interval | null {
    const first = this.intervals.at(0);
    const last = this.intervals.at(-1);
    return first === undefined || last === undefined ? null : interval(first.fromMm, last.toMm);
  }

  /** Positions in this set, in the other, or in both. Cost O(n + m). */
  union(other: IntervalSet | Interval): IntervalSet {
    return new IntervalSet(coalesce(mergeSorted(this.intervals, canonicalOf(other))));
  }

  /** Positions in both. Cost O(n + m). */
  intersect(other: IntervalSet | Interval): IntervalSet {
    return new IntervalSet(intersectSorted(this.intervals, canonicalOf(other)));
  }

  /** Positions in this set that are not in the other. Cost O(n + m). */
  subtract(other: IntervalSet | Interval): IntervalSet {
    return new IntervalSet(subtractSorted(this.intervals, canonicalOf(other)));
  }

  /** Positions of the hull that are not in this set; what lies outside the hull plays no part. Cost O(n). */
  complementWithin(hull: Interval): IntervalSet {
    return new IntervalSet(subtractSorted(canonicalOf(hull), this.intervals));
  }

  /** Whether every position of the other is in this set (true of an empty other). Cost O(n + m), O(log n) for an interval. */
  covers(other: IntervalSet | Interval): boolean {
    if (other instanceof IntervalSet) return coversSorted(this.intervals, other.intervals);
    const { fromMm, toMm } = other;
    checkInterval(fromMm, toMm);
    const candidate = firstEndingAfter(this.intervals, fromMm);
    return candidate !== undefined && candidate.fromMm <= fromMm && candidate.toMm >= toMm;
  }

  /** Whether the two share a position; touching is not sharing. Cost O(n + m), O(log n) for an interval. */
  overlaps(other: IntervalSet | Interval): boolean {
    if (other instanceof IntervalSet) return !this.intersect(other).isEmpty;
    const { fromMm, toMm } = other;
    checkInterval(fromMm, toMm);
    const candidate = firstEndingAfter(this.intervals, fromMm);
    return candidate !== undefined && candidate.fromMm < toMm;
  }

  /** Whether the millimetre that begins at `pointMm` is in this set. Throws RangeError unless a safe integer. Cost O(log n). */
  contains(pointMm: number): boolean {
    const candidate = firstEndingAfter(this.intervals, wholeMillimetres(pointMm, 'pointMm'));
    return candidate !== undefined && candidate.fromMm <= pointMm;
  }

  /** Whether both hold the same positions. Cost O(min(n, m)). */
  equals(other: IntervalSet): boolean {
    if (this.intervals.length !== other.intervals.length) return false;
    return this.intervals.every(({ fromMm, toMm }, index) => {
      const twin = other.intervals[index];
      return twin !== undefined && twin.fromMm === fromMm && twin.toMm === toMm;
    });
  }

  /**
   * Every interval with both its ends moved outwards by `byMm`, or inwards when negative; what shrinks to nothing is
   * gone. With the half-width of an uncertain boundary, grown is where a thing possibly is and shrunk is where it
   * certainly is. Growing and shrinking back closes gaps of up to `2 byMm`.
   * Throws RangeError when `byMm` or a moved bound is not a safe integer. Cost O(n).
   */
  grow(byMm: number): IntervalSet {
    const distanceMm = wholeMillimetres(byMm, 'byMm');
    const moved: Interval[] = [];
    for (const { fromMm, toMm } of this.intervals) {
      const startMm = fromMm - distanceMm;
      const endMm = toMm + distanceMm;
      if (startMm < endMm) moved.push(interval(startMm, endMm));
    }
    return new IntervalSet(coalesce(moved));
  }

  /** This set moved by `byMm`. Throws RangeError when `byMm` or a moved bound is not a safe integer. Cost O(n). */
  shift(byMm: number): IntervalSet {
    const distanceMm = wholeMillimetres(byMm, 'byMm');
    return new IntervalSet(this.intervals.map(({ fromMm, toMm }) => interval(fromMm + distanceMm, toMm + distanceMm)));
  }

  /** The text of a PostgreSQL int8multirange, such as `{[1,5),[7,9)}`. Cost O(n). */
  toMultirange(): string {
    return formatMultirange(this.intervals);
  }
}

function canonicalOf(operand: IntervalSet | Interval): readonly Interval[] {
  return operand instanceof IntervalSet ? operand.intervals : [interval(operand.fromMm, operand.toMm)];
}
