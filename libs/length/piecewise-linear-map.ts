/**
 * One class for every map between positions: a continuous, monotone, piecewise linear function, rising or falling,
 * given by its knots and its slopes beyond the first and the last one. It may be flat between knots (a cut-out takes
 * length away), never beyond them, and it ends at a knot whose outer slope is null.
 * Every look-up is a binary search, O(log n); values are unrounded unless the name says Mm.
 */
import { lastIndexWhere } from './last-index-where.js';
import { roundMm } from './round-mm.js';

export interface Knot {
  readonly x: number;
  readonly y: number;
}

export interface EndSlopes {
  /** Slope before the first knot; null when the map starts there. */
  before: number | null;
  /** Slope after the last knot; null when the map ends there. */
  after: number | null;
}

// Knots nearer than a nanometre arise only from rounding when maps are chained; they are one knot.
const SAME_KNOT_MM = 1e-6;

export class PiecewiseLinearMap {
  /** +1 for a rising map, −1 for a falling one. */
  readonly direction: 1 | -1;

  private constructor(
    readonly knots: readonly Knot[],
    readonly slopes: Readonly<EndSlopes>,
  ) {
    this.direction = directionOf(knots, slopes);
  }

  /** @throws RangeError without a knot, unless x rises, y is monotone and the slopes beyond the ends agree with it */
  static through(knots: readonly Knot[], slopes: EndSlopes): PiecewiseLinearMap {
    return new PiecewiseLinearMap(Object.freeze(knots.map(({ x, y }) => Object.freeze({ x, y }))), Object.freeze({ ...slopes }));
  }

  /** The unrounded value at x. @throws RangeError where the map has none */
  at(x: number): number {
    const index = lastIndexWhere(this.knots, (knot) => knot.x <= x);
    const from = this.knots[index];
    const to = this.knots[index + 1];
    if (from !== undefined && to !== undefined) return between(x, from.x, from.y, to.x, to.y);
    return beyond(x, from ?? to, from === undefined ? this.slopes.before : this.slopes.after);
  }

  /** The value at x in whole millimetres, rounded once. */
  atMm(x: number): number {
    return roundMm(this.at(x));
  }

  /** The slope just after x; where the map ends, the slope just before. @throws RangeError outside, or when it is one point */
  slopeAt(x: number): number {
    this.at(x);
    const index = lastIndexWhere(this.knots, (knot) => knot.x <= x);
    const slope = this.slopeAfterKnot(index) ?? this.slopeAfterKnot(index - 1);
    if (slope === null) throw new RangeError('a map of a single point has no slope');
    return slope;
  }

  /**
   * The x at which the map reaches y. Where the map is flat, the upper end of the flat piece: the material above the cut.
   * @throws RangeError where the map never reaches y
   */
  upperInverseAt(y: number): number {
    const index = lastIndexWhere(this.knots, (knot) => this.direction * (y - knot.y) >= 0);
    const from = this.knots[index];
    const to = this.knots[index + 1];
    if (from !== undefined && to !== undefined) return between(y, from.y, from.x, to.y, to.x);
    const slope = from === undefined ? this.slopes.before : this.slopes.after;
    const knot = from ?? to;
    return beyond(y, knot && { x: knot.y, y: knot.x }, slope === null ? null : 1 / slope);
  }

  /** The inverse map. @throws RangeError when the map is flat somewhere: ask upperInverseAt instead */
  inverse(): PiecewiseLinearMap {
    const { before, after } = this.slopes;
    const swapped = this.knots.map(({ x, y }) => ({ x: y, y: x }));
    const ends = { before: before === null ? null : 1 / before, after: after === null ? null : 1 / after };
    if (this.direction === 1) return PiecewiseLinearMap.through(swapped, ends);
    return PiecewiseLinearMap.through(swapped.reverse(), { before: ends.after, after: ends.before });
  }

  /** The map x → this(first(x)), defined where both are. @throws RangeError when they have no x in common */
  after(first: PiecewiseLinearMap): PiecewiseLinearMap {
    const own = first.knots.filter(({ y }) => this.reaches(y)).map(({ x, y }) => ({ x, y: this.at(y) }));
    const pulled = this.knots.filter(({ x }) => first.isReached(x)).map(({ x, y }) => ({ x: first.upperInverseAt(x), y }));
    const knots = [...own, ...pulled].sort((a, b) => a.x - b.x);
    const slopes = first.direction === 1 ? this.slopes : { before: this.slopes.after, after: this.slopes.before };
    return PiecewiseLinearMap.through(
      knots.filter(({ x }, index) => index === 0 || x - (knots[index - 1]?.x ?? x) > SAME_KNOT_MM),
      { before: product(first.slopes.before, slopes.before), after: product(first.slopes.after, slopes.after) },
    );
  }

  /** The map x → this(x) + x. */
  plusIdentity(): PiecewiseLinearMap {
    const { before, after } = this.slopes;
    return PiecewiseLinearMap.through(
      this.knots.map(({ x, y }) => ({ x, y: y + x })),
      { before: before === null ? null : before + 1, after: after === null ? null : after + 1 },
    );
  }

  /** Whether the map has a value at x. */
  reaches(x: number): boolean {
    return withinEnds(x, this.knots, (knot) => knot.x, this.slopes, 1);
  }

  private isReached(y: number): boolean {
    return withinEnds(y, this.knots, (knot) => knot.y, this.slopes, this.direction);
  }

  private slopeAfterKnot(index: number): number | null {
    const from = this.knots[index];
    const to = this.knots[index + 1];
    if (from === undefined) return this.slopes.before;
    return to === undefined ? this.slopes.after : (to.y - from.y) / (to.x - from.x);
  }
}

function directionOf(knots: readonly Knot[], { before, after }: EndSlopes): 1 | -1 {
  const [first] = knots;
  const last = knots[knots.length - 1];
  if (first === undefined || last === undefined) throw new RangeError('a map needs at least one knot');
  const falls = last.y < first.y || (before ?? 0) < 0 || (after ?? 0) < 0;
  const direction = falls ? -1 : 1;
  for (const slope of [before, after]) {
    if (slope !== null && !(Number.isFinite(slope) && slope * direction > 0)) {
      throw new RangeError(`a slope of ${slope} beyond the knots does not fit a ${falls ? 'falling' : 'rising'} map`);
    }
  }
  knots.forEach((knot, index) => {
    if (!Number.isFinite(knot.x) || !Number.isFinite(knot.y)) throw new RangeError(`knot (${knot.x}, ${knot.y}) is not finite`);
    const previous = knots[index - 1];
    if (previous !== undefined && !(previous.x < knot.x && (knot.y - previous.y) * direction >= 0)) {
      const pair = `knot (${knot.x}, ${knot.y}) does not follow (${previous.x}, ${previous.y})`;
      throw new RangeError(`${pair} in a ${falls ? 'falling' : 'rising'} map`);
    }
  });
  return direction;
}

/** Straight line from (x0, y0) to (x1, y1), kept within both values so that rounding cannot break monotony. */
function between(x: number, x0: number, y0: number, x1: number, y1: number): number {
  const y = y0 + (x - x0) * ((y1 - y0) / (x1 - x0));
  return y0 <= y1 ? Math.min(Math.max(y, y0), y1) : Math.max(Math.min(y, y0), y1);
}

function beyond(x: number, knot: Knot | undefined, slope: number | null): number {
  if (knot !== undefined && x === knot.x) return knot.y;
  if (knot === undefined || slope === null || !Number.isFinite(x)) throw new RangeError(`the map does not reach ${x}`);
  return knot.y + slope * (x - knot.x);
}

function withinEnds(value: number, knots: readonly Knot[], of: (knot: Knot) => number, ends: EndSlopes, direction: 1 | -1): boolean {
  const [first] = knots;
  const last = knots[knots.length - 1];
  if (first === undefined || last === undefined) return false;
  return (
    (ends.before !== null || direction * (value - of(first)) >= 0) && (ends.after !== null || direction * (of(last) - value) >= 0)
  );
}

function product(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a * b;
}
