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
    const figure = (which: number): number => this.figures[at * WIDTH + which] as number;
    const extreme = (value: number, address: number): Extreme | null => (figure(address) === NOWHERE ? null : { value: figure(value), address: figure(address) });
    return {
      // Written out: made from a list of names, they cost more than all else.
      counts: { read: figure(0), missing: figure(1), saturatedHigh: figure(2), saturatedLow: figure(3), suspectStuck: figure(4), implausible: figure(5) },
      least: extreme(LEAST, LEAST_AT), greatest: extreme(GREATEST, GREATEST_AT), n: figure(N), mean: figure(MEAN), squares: figure(SQUARES),
      firstPosition: figure(FIRST), lastPosition: figure(LAST), fromPosition: figure(FROM), toPosition: figure(TO),
    };
  }

  /** The seventeen numbers at a place, to be written where it is made known as having samples. */
  fill(at: number): Float64Array {
    this.reserve(at + 1);
    this.kinds[at] = FILLED;
    return this.figures.subarray(at * WIDTH, (at + 1) * WIDTH);
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
    if (!this.hasSamples(at)) {
      this.copy(at, other, from, 1);
      return;
    }
    const { figures: left } = this;
    const { figures: right } = other;
    const [l, r] = [at * WIDTH, from * WIDTH];
    const of = (figures: Float64Array, place: number): number => figures[place] as number;
    for (let status = 0; status < COUNTS; status += 1) left[l + status] = of(left, l + status) + of(right, r + status);
    if (of(right, r + LEAST_AT) !== NOWHERE && (of(left, l + LEAST_AT) === NOWHERE || of(right, r + LEAST) < of(left, l + LEAST))) {
      left[l + LEAST] = of(right, r + LEAST);
      left[l + LEAST_AT] = of(right, r + LEAST_AT);
    }
    if (of(right, r + GREATEST_AT) !== NOWHERE && (of(left, l + GREATEST_AT) === NOWHERE || of(right, r + GREATEST) > of(left, l + GREATEST))) {
      left[l + GREATEST] = of(right, r + GREATEST);
      left[l + GREATEST_AT] = of(right, r + GREATEST_AT);
    }
    const [leftN, rightN] = [of(left, l + N), of(right, r + N)];
    const n = leftN + rightN;
    const difference = of(right, r + MEAN) - of(left, l + MEAN);
    const apart = leftN > 0 && rightN > 0;
    left[l + SQUARES] = of(left, l + SQUARES) + of(right, r + SQUARES) + (apart ? (difference * difference * leftN * rightN) / n : 0);
    left[l + MEAN] = apart ? of(left, l + MEAN) + (difference * rightN) / n : leftN > 0 ? of(left, l + MEAN) : of(right, r + MEAN);
    left[l + N] = n;
    left[l + LAST] = of(right, r + LAST);
    left[l + FROM] = Math.min(of(left, l + FROM), of(right, r + FROM));
    left[l + TO] = Math.max(of(left, l + TO), of(right, r + TO));
  }

  private reserve(room: number): void {
    if (room <= this.kinds.length) return;
    const larger = new SummaryTable(Math.max(room, 2 * this.kinds.length));
    larger.figures.set(this.figures);
    larger.kinds.set(this.kinds);
    [this.figures, this.kinds] = [larger.figures, larger.kinds];
  }
}
