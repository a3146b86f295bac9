/**
 * One wall of the well, at one shoe: footage to measured depth and back, for points and for intervals.
 * Every boundary is carried unrounded and rounded once, so neighbouring intervals stay neighbours in either direction,
 * and the two walls meet exactly at the shoe.
 */
import type { IntervalSet } from '#libs/intervals';
import { LengthError, refuseEmptyOrReversed } from './length-error.js';
import type { DepthBasis } from './outer-wall-map.js';
import type { PiecewiseLinearMap } from './piecewise-linear-map.js';
import { roundMm } from './round-mm.js';
import { rootSumOfSquares } from './uncertainty.js';

export type WallName = 'outer' | 'inner';

export interface WallParts {
  name: WallName;
  /** Footage → net length. */
  net: PiecewiseLinearMap;
  /** Net length → measured depth, within [fromNetMm, toNetMm]. */
  depth: PiecewiseLinearMap;
  /** Footage cut out of it. */
  removed: IntervalSet;
  fromNetMm: number;
  /** Infinity for an outer wall asked about without a shoe. */
  toNetMm: number;
  /** Depth per net length, without its sign. */
  ratioAt: (netMm: number) => number;
  uAt: (netMm: number) => number;
  basisAt: (netMm: number) => DepthBasis;
}

/** A depth (unrounded) with its standard uncertainty and what it rests on. */
export interface DepthFigure {
  mdMm: number;
  uMm: number;
  basis: DepthBasis;
}

/** A footage (unrounded) with its standard uncertainty and what it rests on. */
export interface FootageFigure {
  footageMm: number;
  uMm: number;
  basis: DepthBasis;
}

/** Half-open, in whole millimetres; empty only where less than a millimetre of the source lies on the wall. */
export interface Span {
  fromMm: number;
  toMm: number;
}

/** An unbroken piece of pipe on a wall: its footage and the depths it covers, with the standard uncertainty of each depth. */
export interface WallPiece {
  wall: WallName;
  footage: Span;
  md: Span;
  uMdFromMm: number;
  uMdToMm: number;
  /** Metres of this wall from one metre of pipe, at each depth. */
  ratioFrom: number;
  ratioTo: number;
  basisFrom: DepthBasis;
  basisTo: DepthBasis;
}

/** The part of a depth interval that this wall does not reach. */
export interface Beyond {
  md: Span;
  why: 'above-the-hang-off' | 'below-the-shoe';
}

interface Boundary {
  footageMm: number;
  netMm: number;
  mdMm: number;
}

export class Wall {
  /** The wall's ends, by footage: on the outer wall from hang-off to shoe, on the inner from shoe to hang-off. */
  private readonly start: Boundary;
  private readonly end: Boundary;

  constructor(private readonly parts: WallParts) {
    this.start = this.endAt(parts.fromNetMm);
    this.end = this.endAt(parts.toNetMm);
  }

  get name(): WallName {
    return this.parts.name;
  }

  /** The whole wall's footage, unrounded, cut-outs included; toMm is Infinity without a shoe. */
  get footageRange(): Span {
    return { fromMm: this.start.footageMm, toMm: this.end.footageMm };
  }

  /** Footage → depth as one map, for drawing or for many look-ups. */
  get footageToMd(): PiecewiseLinearMap {
    return this.parts.depth.after(this.parts.net);
  }

  /**
   * Where on this wall this footage is.
   * @param uFootageMm the footage's own standard uncertainty; it counts λ-fold on the outer wall
   * @throws LengthError 'cut-out', 'above-the-hang-off' or 'not-on-this-wall'
   */
  mdAt(footageMm: number, uFootageMm = 0): DepthFigure {
    const netMm = this.netOnWall(footageMm);
    return {
      mdMm: this.parts.depth.at(netMm),
      uMm: rootSumOfSquares(this.parts.uAt(netMm), this.parts.ratioAt(netMm) * uFootageMm),
      basis: this.parts.basisAt(netMm),
    };
  }

  /** Metres of this wall from one metre of pipe, where this footage is. @throws as mdAt */
  ratioAt(footageMm: number): number {
    return this.parts.ratioAt(this.netOnWall(footageMm));
  }

  /** Which footage is at this depth; at a re-join, the pipe above the cut. @throws LengthError 'above-the-hang-off' or 'below-the-shoe' */
  footageAt(mdMm: number): FootageFigure {
    const why = this.whyBeyond(mdMm);
    if (why !== null) throw this.beyondError(`depth ${mdMm} mm`, why);
    const { footageMm, netMm } = this.boundaryAtMd(mdMm);
    return { footageMm, uMm: this.parts.uAt(netMm) / this.parts.ratioAt(netMm), basis: this.parts.basisAt(netMm) };
  }

  /**
   * The pieces of a footage interval on this wall, by rising footage; none where it is elsewhere, several where a
   * cut-out splits it. @throws LengthError 'empty-interval' or 'reversed-interval'
   */
  piecesOfFootage(footage: Span): WallPiece[] {
    refuseEmptyOrReversed(footage);
    const pieces = this.pieces(this.boundaryAtFootage(footage.fromMm), this.boundaryAtFootage(footage.toMm));
    return pieces.filter(({ md }) => md.fromMm < md.toMm);
  }

  /**
   * The pieces of pipe in a depth interval, by rising footage, and what of it this wall does not reach.
   * @throws LengthError 'empty-interval', 'reversed-interval', or 'above-the-hang-off' / 'below-the-shoe' when all of it is
   */
  piecesAtDepth(md: Span): { pieces: WallPiece[]; beyond: Beyond[] } {
    refuseEmptyOrReversed(md);
    const [from, to] = [this.boundaryAtMd(md.fromMm), this.boundaryAtMd(md.toMm)];
    const beyond = this.beyond(md);
    const [whole] = beyond;
    if (whole?.md.fromMm === md.fromMm && whole.md.toMm === md.toMm) {
      throw this.beyondError(`the interval [${md.fromMm}, ${md.toMm}) mm`, whole.why);
    }
    const pieces = from.footageMm <= to.footageMm ? this.pieces(from, to) : this.pieces(to, from);
    return { pieces: pieces.filter(({ footage }) => footage.fromMm < footage.toMm), beyond };
  }

  private pieces(from: Boundary, to: Boundary): WallPiece[] {
    const pieces: WallPiece[] = [];
    let start = from;
    for (const cut of this.parts.removed.intervals) {
      if (cut.toMm <= start.footageMm || cut.fromMm >= to.footageMm) continue;
      if (cut.fromMm > start.footageMm) pieces.push(this.piece(start, this.boundaryAtFootage(cut.fromMm)));
      start = this.boundaryAtFootage(cut.toMm);
    }
    if (start.footageMm < to.footageMm) pieces.push(this.piece(start, to));
    return pieces;
  }

  private piece(first: Boundary, last: Boundary): WallPiece {
    const [upper, lower] = first.mdMm <= last.mdMm ? [first, last] : [last, first];
    return {
      wall: this.name,
      footage: { fromMm: roundMm(first.footageMm), toMm: roundMm(last.footageMm) },
      md: { fromMm: roundMm(upper.mdMm), toMm: roundMm(lower.mdMm) },
      uMdFromMm: this.parts.uAt(upper.netMm),
      uMdToMm: this.parts.uAt(lower.netMm),
      ratioFrom: this.parts.ratioAt(upper.netMm),
      ratioTo: this.parts.ratioAt(lower.netMm),
      basisFrom: this.parts.basisAt(upper.netMm),
      basisTo: this.parts.basisAt(lower.netMm),
    };
  }

  private boundaryAtFootage(footageMm: number): Boundary {
    if (footageMm <= this.start.footageMm) return this.start;
    const netMm = this.parts.net.at(footageMm);
    if (netMm >= this.end.netMm) return this.end;
    return netMm <= this.start.netMm ? this.start : { footageMm, netMm, mdMm: this.parts.depth.at(netMm) };
  }

  private boundaryAtMd(mdMm: number): Boundary {
    const rises = this.parts.depth.direction;
    if (rises * (mdMm - this.start.mdMm) <= 0) return this.start;
    if (rises * (this.end.mdMm - mdMm) <= 0) return this.end;
    const netMm = this.parts.depth.upperInverseAt(mdMm);
    return { footageMm: this.parts.net.upperInverseAt(netMm), netMm, mdMm };
  }

  private endAt(netMm: number): Boundary {
    if (netMm === Infinity) return { footageMm: Infinity, netMm, mdMm: Infinity };
    return { footageMm: this.parts.net.upperInverseAt(netMm), netMm, mdMm: this.parts.depth.at(netMm) };
  }

  private whyBeyond(mdMm: number): Beyond['why'] | null {
    if (mdMm < Math.min(this.start.mdMm, this.end.mdMm)) return 'above-the-hang-off';
    return mdMm <= Math.max(this.start.mdMm, this.end.mdMm) ? null : 'below-the-shoe';
  }

  /** The parts of a depth interval that this wall does not reach; nothing when it reaches all of it. */
  beyond({ fromMm, toMm }: Span): Beyond[] {
    const topMm = roundMm(Math.min(this.start.mdMm, this.end.mdMm));
    const bottomMm = roundMm(Math.max(this.start.mdMm, this.end.mdMm));
    const parts: Beyond[] = [
      { md: { fromMm, toMm: Math.min(toMm, topMm) }, why: 'above-the-hang-off' },
      { md: { fromMm: Math.max(fromMm, bottomMm), toMm }, why: 'below-the-shoe' },
    ];
    return parts.filter(({ md }) => md.fromMm < md.toMm);
  }

  private beyondError(what: string, why: Beyond['why']): LengthError {
    const end = why === 'above-the-hang-off' ? 'above the hang-off' : 'below the shoe';
    const endMdMm = (why === 'above-the-hang-off' ? Math.min : Math.max)(this.start.mdMm, this.end.mdMm);
    return new LengthError(why, `${what} is ${end} at ${roundMm(endMdMm)} mm`);
  }

  private netOnWall(footageMm: number): number {
    const { name, net, removed, fromNetMm, toNetMm } = this.parts;
    if (removed.contains(Math.floor(footageMm))) throw new LengthError('cut-out', `footage ${footageMm} mm was cut out`);
    const isBefore = footageMm < this.start.footageMm;
    // The wall's ends are decided by footage alone; the net length only follows, kept within them against rounding.
    if (!isBefore && footageMm < this.end.footageMm) return Math.min(Math.max(net.at(footageMm), fromNetMm), toNetMm);
    if (isBefore === (name === 'outer')) {
      throw new LengthError('above-the-hang-off', `footage ${footageMm} mm is above the hang-off`);
    }
    throw new LengthError('not-on-this-wall', `footage ${footageMm} mm is on the other side of the shoe, not on the ${name} wall`);
  }
}
