/**
 * The outer wall, fixed once made: material n rests at md = md_h + λ (n − n_h). Each shoe tie fixes one point of this
 * map: n_shoe = n(F) − x_hang − D rests at md_h + D. Between known points interpolate; past the last, the default ratio.
 */
import type { RecordRef } from '#libs/explanation';
import { lastIndexWhere } from './last-index-where.js';
import type { NetLengths } from './net-lengths.js';
import { PiecewiseLinearMap } from './piecewise-linear-map.js';
import { risingChain } from './rising-chain.js';
import type { HangOff, HangOffPath, ShoeTie, StringLengths } from './string-lengths.js';
import { uAtHangOff, uAtTie, uBetween, uPast } from './uncertainty.js';

/** What a depth figure rests on. */
export type DepthBasis = 'between ties' | 'past the last tie (default ratio)' | 'counted back from the weld point';

/** A shoe tie placed on the outer wall: unrounded net length and measured depth. */
export interface TiePoint {
  tie: ShoeTie;
  path: HangOffPath;
  /** n(F) with the cut-outs that had happened by then. */
  weldNetMm: number;
  /** D, the shoe's depth below the hang-off. */
  depthBelowHangOffMm: number;
  netMm: number;
  mdMm: number;
}

/** A known point of the outer wall: the hang-off, or a tie that is used. */
export interface OuterKnot {
  record: RecordRef;
  /** Null at the hang-off. */
  tie: ShoeTie | null;
  netMm: number;
  mdMm: number;
  /** Standard uncertainty of the depth at this n. */
  uMm: number;
}

export class OuterWallMap {
  /** n → measured depth; starts at the hang-off. */
  readonly map: PiecewiseLinearMap;
  readonly knots: readonly OuterKnot[];
  /** Every tie since the hang-off, in order of time, used or not. */
  readonly ties: readonly TiePoint[];
  /** n + g(n): rises to n(F) − x_hang + md_h at the shoe, which finds the shoe exactly. */
  readonly netPlusMd: PiecewiseLinearMap;
  readonly hangOffNetMm: number;

  /**
   * A tie that does not rise with the others in n and in depth is no knot; it stays in `ties` for the tie report.
   * @param pathAt the line's path distance to the hang-off at a time; its refusals pass through
   */
  constructor(
    private readonly lengths: StringLengths,
    readonly hangOff: HangOff,
    nets: NetLengths,
    pathAt: (atUs: number) => HangOffPath,
  ) {
    this.hangOffNetMm = nets.at(Infinity).at(hangOff.footageMm);
    this.ties = lengths.shoeTies
      .filter(({ atUs }) => atUs >= hangOff.atUs)
      .sort((a, b) => a.atUs - b.atUs)
      .map((tie) => placeTie(tie, hangOff, nets, pathAt(tie.atUs)));
    const start = { netMm: this.hangOffNetMm, mdMm: hangOff.mdMm };
    const used = risingChain(start, this.ties);
    const points = [start, ...used].map(({ netMm, mdMm }) => ({ x: netMm, y: mdMm }));
    this.map = PiecewiseLinearMap.through(points, { before: null, after: lengths.defaultRatio.lambda });
    this.netPlusMd = this.map.plusIdentity();
    this.knots = [this.hangOffKnot(start), ...used.map((point) => this.tieKnot(point))];
  }

  /** Whether this tie is a knot of the map. */
  isUsed({ tie }: TiePoint): boolean {
    return this.knots.some((knot) => knot.tie === tie);
  }

  /** Local length ratio just after n. */
  lambdaAt(netMm: number): number {
    return this.map.slopeAt(netMm);
  }

  /** The known points at or above n and below it; nothing below past the last. */
  knotsAround(netMm: number): { before: OuterKnot; after: OuterKnot | undefined } {
    return around(this.knots, netMm);
  }

  /** The record of the ratio in use at n: that of the default past the last known point, none where ties give it. */
  ratioRecordAt(netMm: number): RecordRef | null {
    return netMm >= (this.knots.at(-1)?.netMm ?? -Infinity) ? this.lengths.defaultRatio.record : null;
  }

  basisAt(netMm: number): DepthBasis {
    const last = this.knots.at(-1);
    return last !== undefined && this.knots.length > 1 && netMm <= last.netMm ? 'between ties' : 'past the last tie (default ratio)';
  }

  /** Standard uncertainty of the depth at n, for n at or past the hang-off. */
  uAt(netMm: number): number {
    return uAmong(this.knots, netMm, this.lengths);
  }

  /** As `uAt`, had this tie not been recorded. */
  uWithout({ tie }: TiePoint, netMm: number): number {
    return uAmong(this.knots.filter((knot) => knot.tie !== tie), netMm, this.lengths);
  }

  /** Standard uncertainty of a tie's own depth at its n, with the length ratio λ there. */
  uOfTie({ tie, path, depthBelowHangOffMm }: TiePoint, lambda: number): number {
    return uAtTie({
      uShoeMm: tie.uShoeMm,
      uPathMm: path.uPathMm,
      uHangOffMdMm: this.hangOff.uMdMm,
      behindWeldMm: path.pathMm + depthBelowHangOffMm,
      lambda,
      scaleRelativeU: this.lengths.scaleRelativeU,
    });
  }

  private hangOffKnot({ netMm, mdMm }: { netMm: number; mdMm: number }): OuterKnot {
    const { record, uMdMm, uFootageMm } = this.hangOff;
    return { record, tie: null, netMm, mdMm, uMm: uAtHangOff(uMdMm, uFootageMm, this.lambdaAt(netMm)) };
  }

  private tieKnot(point: TiePoint): OuterKnot {
    const { tie, netMm, mdMm } = point;
    return { record: tie.record, tie, netMm, mdMm, uMm: this.uOfTie(point, this.lambdaAt(netMm)) };
  }
}

function placeTie(tie: ShoeTie, hangOff: HangOff, nets: NetLengths, path: HangOffPath): TiePoint {
  const weldNetMm = nets.at(tie.atUs).at(tie.weldFootageMm);
  const depthBelowHangOffMm = tie.shoeMdMm - hangOff.mdMm;
  return { tie, path, weldNetMm, depthBelowHangOffMm, netMm: weldNetMm - path.pathMm - depthBelowHangOffMm, mdMm: tie.shoeMdMm };
}

function around(knots: readonly OuterKnot[], netMm: number): { before: OuterKnot; after: OuterKnot | undefined } {
  const index = Math.max(0, lastIndexWhere(knots, (knot) => knot.netMm <= netMm));
  const before = knots[index];
  if (before === undefined) throw new RangeError('an outer wall has at least the hang-off as a known point');
  return { before, after: knots[index + 1] };
}

function uAmong(knots: readonly OuterKnot[], netMm: number, { scaleRelativeU, defaultRatio }: StringLengths): number {
  const { before, after } = around(knots, netMm);
  const fromBefore = { uMm: before.uMm, distanceMm: netMm - before.netMm };
  if (after === undefined) return uPast(fromBefore, defaultRatio.lambda, scaleRelativeU, defaultRatio.u);
  const lambda = (after.mdMm - before.mdMm) / (after.netMm - before.netMm);
  return uBetween(fromBefore, { uMm: after.uMm, distanceMm: after.netMm - netMm }, lambda, scaleRelativeU);
}
