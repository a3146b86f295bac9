/**
 * What every shoe tie says about the others. A jump is slip, a missed cut-out or a wrong reset: it is shown, not smoothed.
 * Three residuals, each with its standard uncertainty, and suspect when one exceeds k = 2 of them:
 *  - reconciliation, with the default ratio: n(F) − [n_h + x + D (1 + 1/λ)];
 *  - the depth against the least-squares line through the hang-off and all ties;
 *  - the depth against the straight line between its two neighbours in use.
 */
import type { RecordRef } from '#libs/explanation';
import type { OuterKnot, OuterWallMap, TiePoint } from './outer-wall-map.js';
import type { StringLengths } from './string-lengths.js';
import { COVERAGE_FACTOR, rootSumOfSquares } from './uncertainty.js';

/** A difference (mm) that should be zero, its standard uncertainty, and whether it exceeds k = 2 of them. */
export interface Residual {
  mm: number;
  uMm: number;
  isExceeded: boolean;
}

export interface TieReportLine {
  record: RecordRef;
  atUs: number;
  netMm: number;
  mdMm: number;
  /** False when the tie does not rise with the others, and so is no knot of the outer map. */
  isUsed: boolean;
  /** λ from the known point before it; null when n does not rise from there. */
  localLambda: number | null;
  reconciliation: Residual;
  /** Null with fewer than three points, through which any line fits. */
  againstLine: Residual | null;
  /** Null when no known point lies on both sides. */
  againstNeighbours: Residual | null;
  isSuspect: boolean;
}

/** One line per tie since the hang-off, in order of time. */
export function tieReport(outer: OuterWallMap, lengths: StringLengths): TieReportLine[] {
  const line = leastSquaresLine([{ netMm: outer.hangOffNetMm, mdMm: outer.hangOff.mdMm }, ...outer.ties]);
  return outer.ties.map((point) => {
    const uMm = outer.uOfTie(point, lengths.defaultRatio.lambda);
    const { before, after } = neighbours(point, outer);
    const reconciliation = reconcile(point, outer, lengths);
    const againstLine = line === null ? null : residual(point.mdMm - line(point.netMm), uMm);
    const againstNeighbours = before === undefined || after === undefined ? null : interpolationResidual(point, before, after, outer, uMm);
    return {
      record: point.tie.record,
      atUs: point.tie.atUs,
      netMm: point.netMm,
      mdMm: point.mdMm,
      isUsed: outer.isUsed(point),
      localLambda: before === undefined ? null : (point.mdMm - before.mdMm) / (point.netMm - before.netMm),
      reconciliation,
      againstLine,
      againstNeighbours,
      isSuspect: !outer.isUsed(point) || [reconciliation, againstLine, againstNeighbours].some((found) => found?.isExceeded),
    };
  });
}

/**
 * n(F) − [n_h + x + D (1 + 1/λ)] with the default ratio. Its standard uncertainty combines u_nh, u_x,
 * (1 + 1/λ) √(u_shoe² + u_mdh²), D u_λ / λ² and s (n(F) − n_h).
 */
export function reconcile({ tie, path, weldNetMm, depthBelowHangOffMm }: TiePoint, outer: OuterWallMap, lengths: StringLengths): Residual {
  const { lambda, u } = lengths.defaultRatio;
  const { hangOff, hangOffNetMm } = outer;
  const differenceMm = weldNetMm - (hangOffNetMm + path.pathMm + depthBelowHangOffMm * (1 + 1 / lambda));
  const uMm = rootSumOfSquares(
    hangOff.uFootageMm,
    path.uPathMm,
    (1 + 1 / lambda) * tie.uShoeMm,
    (1 + 1 / lambda) * hangOff.uMdMm,
    (depthBelowHangOffMm * u) / lambda ** 2,
    lengths.scaleRelativeU * (weldNetMm - hangOffNetMm),
  );
  return residual(differenceMm, uMm);
}

function neighbours(point: TiePoint, { knots }: OuterWallMap): { before: OuterKnot | undefined; after: OuterKnot | undefined } {
  const others = knots.filter(({ tie }) => tie !== point.tie);
  return {
    before: others.filter(({ netMm }) => netMm < point.netMm).at(-1),
    after: others.find(({ netMm }) => netMm > point.netMm),
  };
}

function interpolationResidual(point: TiePoint, before: OuterKnot, after: OuterKnot, outer: OuterWallMap, uTieMm: number): Residual {
  const slope = (after.mdMm - before.mdMm) / (after.netMm - before.netMm);
  const interpolatedMm = before.mdMm + slope * (point.netMm - before.netMm);
  return residual(point.mdMm - interpolatedMm, rootSumOfSquares(uTieMm, outer.uWithout(point, point.netMm)));
}

function residual(mm: number, uMm: number): Residual {
  return { mm, uMm, isExceeded: Math.abs(mm) > COVERAGE_FACTOR * uMm };
}

/** md = mean + b (n − mean n), b = Σ(n − n̄)(md − m̄d) / Σ(n − n̄)²; null through fewer than three points or a single n. */
function leastSquaresLine(points: readonly { netMm: number; mdMm: number }[]): ((netMm: number) => number) | null {
  if (points.length < 3) return null;
  const meanNetMm = points.reduce((sum, { netMm }) => sum + netMm, 0) / points.length;
  const meanMdMm = points.reduce((sum, { mdMm }) => sum + mdMm, 0) / points.length;
  const sxx = points.reduce((sum, { netMm }) => sum + (netMm - meanNetMm) ** 2, 0);
  const sxy = points.reduce((sum, { netMm, mdMm }) => sum + (netMm - meanNetMm) * (mdMm - meanMdMm), 0);
  return sxx === 0 ? null : (netMm) => meanMdMm + (sxy / sxx) * (netMm - meanNetMm);
}
