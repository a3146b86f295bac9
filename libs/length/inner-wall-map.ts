import { PiecewiseLinearMap } from './piecewise-linear-map.js';

/**
 * The inner wall with the shoe at depth D: n → md = md_h + D − (n − n_shoe), falling, from the shoe (n_shoe) up to the
 * hang-off (n_shoe + D), where it ends. An interval maps in reverse order.
 */
export function innerWallMap(shoe: { mdMm: number; netMm: number; hangOffMdMm: number; depthBelowHangOffMm: number }): PiecewiseLinearMap {
  const { mdMm, netMm, hangOffMdMm, depthBelowHangOffMm } = shoe;
  const atShoe = { x: netMm, y: mdMm };
  const atHangOff = { x: netMm + depthBelowHangOffMm, y: hangOffMdMm };
  return PiecewiseLinearMap.through(atHangOff.x > atShoe.x ? [atShoe, atHangOff] : [atShoe], { before: null, after: null });
}
