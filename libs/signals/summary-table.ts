import { STATUS_NAMES } from './sample.js';
import type { Counts, Extreme, Summary } from './summary.js';

/*
 * A summary as seventeen numbers: its counts in the order of `STATUS_NAMES`, its extremes with their addresses (−1 where there is
 * none), n, mean and squares, its first and last and its least and greatest position.
 */
const COUNTS = STATUS_NAMES.length;
export const LEAST = COUNTS;
export const LEAST_AT = COUNTS + 1;
export const GREATEST = COUNTS + 2;
export const GREATEST_AT = COUNTS + 3;
export const N = COUNTS + 4;
export const MEAN = COUNTS + 5;
export const SQUARES = COUNTS + 6;
export const FIRST = COUNTS + 7;
export const LAST = COUNTS + 8;
export const FROM = COUNTS + 9;
export const TO = COUNTS + 10;
const WIDTH = COUNTS + 11;
export const NOWHERE = -1;

const UNKNOWN = 0;
const EMPTY = 1;
const FILLED = 2;

/** What a summary takes in a table. */
export const SUMMARY_BYTES = 8 * WIDTH + 1;

/**
 * Summaries in one array of numbers: thousands of them are kept and merged without an object for each. A place holds a summary,
 * or is known to be of no samples, or nothing is known of it yet.
 */
export class SummaryTable {
  private figures: Float64Array;
  private kinds: Uint8Array;

  /** A table with room for so many; it grows where more are put in. */
  constructor(room: number) {
    this.figures = new Float64Array(room * WIDTH);
    this.kinds = new Uint8Array(room);
  }

  /** These summaries, the first at 0; null stands for no samples. */
  static of(summaries: readonly (Summary | null)[]): SummaryTable {
    const table = new SummaryTable(summaries.length);
    summaries.forEach((summary, at) => { table.put(at, summary); });
    return table;
  }

  get room(): number {
    return this.kinds.length;
  }

  isKnown(at: number): boolean {
    return (this.kinds[at] ?? UNKNOWN) !== UNKNOWN;
  }

  hasSamples(at: number): boolean {
    return this.kinds[at] === FILLED;
  }

  fromPosition(at: number): number {
    return this.figures[at * WIDTH + FROM] as number;
  }

  toPosition(at: number): number {
    return this.figures[at * WIDTH + TO] as number;
  }

  put(at: number, summary: Summary | null): void {
    this.reserve(at + 1);
    this.kinds[at] = summary === null ? EMPTY : FILLED;
    if (summary === null) return;
    const { figures } = this;
    const own = at * WIDTH;
    for (let status = 0; status < COUNTS; status += 1) figures[own + status] = summary.counts[STATUS_NAMES[status] as keyof Counts];
    const { least, greatest } = summary;
    figures[own + LEAST] = least?.value ?? 0;
    figures[own + LEAST_AT] = least?.address ?? NOWHERE;
    figures[own + GREATEST] = greatest?.value ?? 0;
    figures[own + GREATEST_AT] = greatest?.address ?? NOWHERE;
    figures[own + N] = summary.n;
    figures[own + MEAN] = summary.mean;
    figures[own + SQUARES] = summary.squares;
    figures[own + FIRST] = summary.firstPosition;
    figures[own + LAST] = summary.lastPosition;
    figures[own + FROM] = summary.fromPosition;
    figures[own + TO] = summary.toPosition;
  }

  /** The summary; null where there are no samples, or nothing is known. */
  get(at: number): Summary | null {
    if (!this.hasSamples(at)) return null;
    const { figures } = this;
    const own = at * WIDTH;
    return {
      // Written out: made from a list of names, they cost more than all else.
      counts: {
        read: figures[own] as number, missing: figures[own + 1] as number, saturatedHigh: figures[own + 2] as number,
        saturatedLow: figures[own + 3] as number, suspectStuck: figures[own + 4] as number, implausible: figures[own + 5] as number,
      },
      least: extremeOf(figures, own + LEAST), greatest: extremeOf(figures, own + GREATEST),
      n: figures[own + N] as number, mean: figures[own + MEAN] as number, squares: figures[own + SQUARES] as number,
      firstPosition: figures[own + FIRST] as number, lastPosition: figures[own + LAST] as number,
      fromPosition: figures[own + FROM] as number, toPosition: figures[own + TO] as number,
    };
  }

  /** Makes a place within the table's room known as having samples; gives where its seventeen numbers, to be written, begin in `numbers`. */
  fill(at: number): number {
    this.kinds[at] = FILLED;
    return at * WIDTH;
  }

  /** The numbers of all places. */
  get numbers(): Float64Array {
    return this.figures;
  }

  /** Takes over `count` places of another table from `from` on. */
  copy(at: number, other: SummaryTable, from: number, count: number): void {
    this.reserve(at + count);
    this.kinds.set(other.kinds.subarray(from, from + count), at);
    this.figures.set(other.figures.subarray(from * WIDTH, (from + count) * WIDTH), at * WIDTH);
  }

  /** Puts the samples at a place of another table to those at one of its own, after which they were read; as `merge` does. */
  merge(at: number, other: SummaryTable, from: number): void {
    if (!other.hasSamples(from)) return;
    this.reserve(at + 1);
    const { figures: left } = this;
    const { figures: right } = other;
    const [l, r] = [at * WIDTH, from * WIDTH];
    if (!this.hasSamples(at)) {
      this.kinds[at] = FILLED;
      for (let which = 0; which < WIDTH; which += 1) left[l + which] = right[r + which] as number;
      return;
    }
    for (let status = 0; status < COUNTS; status += 1) left[l + status] = (left[l + status] as number) + (right[r + status] as number);
    if (right[r + LEAST_AT] !== NOWHERE && (left[l + LEAST_AT] === NOWHERE || (right[r + LEAST] as number) < (left[l + LEAST] as number))) {
      left[l + LEAST] = right[r + LEAST] as number;
      left[l + LEAST_AT] = right[r + LEAST_AT] as number;
    }
    if (right[r + GREATEST_AT] !== NOWHERE && (left[l + GREATEST_AT] === NOWHERE || (right[r + GREATEST] as number) > (left[l + GREATEST] as number))) {
      left[l + GREATEST] = right[r + GREATEST] as number;
      left[l + GREATEST_AT] = right[r + GREATEST_AT] as number;
    }
    const [leftN, rightN] = [left[l + N] as number, right[r + N] as number];
    const n = leftN + rightN;
    const difference = (right[r + MEAN] as number) - (left[l + MEAN] as number);
    const apart = leftN > 0 && rightN > 0;
    left[l + SQUARES] = (left[l + SQUARES] as number) + (right[r + SQUARES] as number) + (apart ? (difference * difference * leftN * rightN) / n : 0);
    left[l + MEAN] = apart ? (left[l + MEAN] as number) + (difference * rightN) / n : leftN > 0 ? left[l + MEAN] as number : right[r + MEAN] as number;
    left[l + N] = n;
    left[l + LAST] = right[r + LAST] as number;
    left[l + FROM] = Math.min(left[l + FROM] as number, right[r + FROM] as number);
    left[l + TO] = Math.max(left[l + TO] as number, right[r + TO] as number);
  }

  private reserve(room: number): void {
    if (room <= this.kinds.length) return;
    const larger = new SummaryTable(Math.max(room, 2 * this.kinds.length));
    larger.figures.set(this.figures);
    larger.kinds.set(this.kinds);
    [this.figures, this.kinds] = [larger.figures, larger.kinds];
  }
}

/** A value and the address behind it. */
function extremeOf(figures: Float64Array, at: number): Extreme | null {
  const address = figures[at + 1] as number;
  return address === NOWHERE ? null : { value: figures[at] as number, address };
}
