/**
 * The shoe: the fold where inner pipe turns inside out. Given its depth, the outer map says which material is there.
 * Given the footage F at the weld point, g⁻¹(md_h + D) + D = n(F) − x_hang is solved exactly for D: with n = g⁻¹(md_h + D)
 * it reads g(n) + n = n(F) − x_hang + md_h, a rising piecewise linear map of n.
 */
import { LengthError } from './length-error.js';
import type { DepthBasis, OuterWallMap } from './outer-wall-map.js';
import type { HangOffPath } from './string-lengths.js';
import { COVERAGE_FACTOR, rootSumOfSquares, uOfShoeFromFootage } from './uncertainty.js';

/** A shoe at a depth; without a time every cut-out recorded counts as done. */
export interface ShoeDepthQuestion {
  shoeMdMm: number;
  atUs?: number;
}

/** The shoe when this footage is at the weld point. `uWeldFootageMm`: its standard uncertainty, 0 unless given. */
export interface WeldFootageQuestion {
  weldFootageMm: number;
  atUs: number;
  uWeldFootageMm?: number;
}

export type ShoeQuestion = ShoeDepthQuestion | WeldFootageQuestion;

/** Unrounded positions of the shoe. */
export interface Shoe {
  mdMm: number;
  netMm: number;
  hangOffMdMm: number;
  depthBelowHangOffMm: number;
  /** Standard uncertainty of mdMm; 0 when the depth was given. */
  uMdMm: number;
  /** Basis of the outer map at the shoe. */
  basis: DepthBasis;
  /** Infinity when no time was given. */
  atUs: number;
  /** How it was found from the counter; null when the depth was given. */
  counted: { weldFootageMm: number; weldNetMm: number; path: HangOffPath } | null;
  /** Uncertainty of the inner wall at this shoe, see uOnInnerWall. */
  spread: { fixedMm: number; countedFromNetMm: number };
}

/** @throws LengthError 'above-the-hang-off' when the depth is above it */
export function shoeAtDepth(outer: OuterWallMap, { shoeMdMm, atUs = Infinity }: ShoeDepthQuestion): Shoe {
  const { mdMm: hangOffMdMm } = outer.hangOff;
  if (!(shoeMdMm >= hangOffMdMm)) {
    throw new LengthError('above-the-hang-off', `a shoe at ${shoeMdMm} mm is above the hang-off at ${hangOffMdMm} mm`);
  }
  const netMm = outer.map.upperInverseAt(shoeMdMm);
  return {
    mdMm: shoeMdMm,
    netMm,
    hangOffMdMm: outer.hangOff.mdMm,
    depthBelowHangOffMm: shoeMdMm - hangOffMdMm,
    uMdMm: 0,
    basis: outer.basisAt(netMm),
    atUs,
    counted: null,
    spread: { fixedMm: outer.uAt(netMm) / outer.lambdaAt(netMm), countedFromNetMm: netMm },
  };
}

/**
 * A footage that leaves the shoe above the hang-off by no more than k = 2 uncertainties puts it at the hang-off.
 * @param weldNetMm n(F) with the cut-outs that had happened by then
 * @throws LengthError 'above-the-hang-off' when it is further above: counter, path distance and hang-off disagree
 */
export function shoeFromWeldFootage(outer: OuterWallMap, question: WeldFootageQuestion, weldNetMm: number, path: HangOffPath): Shoe {
  const { hangOff, hangOffNetMm } = outer;
  const uWeldFootageMm = question.uWeldFootageMm ?? 0;
  const pastHangOffMm = weldNetMm - path.pathMm - hangOffNetMm;
  const toleranceMm = COVERAGE_FACTOR * rootSumOfSquares(hangOff.uFootageMm, path.uPathMm, uWeldFootageMm);
  if (!(pastHangOffMm >= -toleranceMm)) {
    const where = `with footage ${question.weldFootageMm} mm at the weld point`;
    throw new LengthError('above-the-hang-off', `${where} the shoe would be above the hang-off: the pipe is ${-pastHangOffMm} mm short of it`);
  }
  const netMm = outer.netPlusMd.upperInverseAt(hangOffNetMm + hangOff.mdMm + Math.max(0, pastHangOffMm));
  const mdMm = outer.map.at(netMm);
  return {
    mdMm,
    netMm,
    hangOffMdMm: outer.hangOff.mdMm,
    depthBelowHangOffMm: mdMm - hangOff.mdMm,
    uMdMm: uOfShoeFromFootage(outer.uAt(netMm), path.uPathMm, uWeldFootageMm, outer.lambdaAt(netMm)),
    basis: outer.basisAt(netMm),
    atUs: question.atUs,
    counted: { weldFootageMm: question.weldFootageMm, weldNetMm, path },
    spread: { fixedMm: rootSumOfSquares(hangOff.uMdMm, path.uPathMm, uWeldFootageMm), countedFromNetMm: weldNetMm },
  };
}
