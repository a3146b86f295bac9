/**
 * Which material is at a station: p = n⁻¹( n(F) − x ), with F the footage at the weld point and x the station's path
 * distance downstream of it. Upstream of the weld point (x < 0) the strip is not yet pipe: its future footage is F − x.
 */
import type { PiecewiseLinearMap } from './piecewise-linear-map.js';

/** A path distance from the weld point; a range where a strip accumulator stores more or less. `uMm`: of either end. */
export interface PathDistance {
  minMm: number;
  maxMm: number;
  uMm: number;
}

export interface StationMaterial {
  /** Unrounded footage for the middle of the path distance. */
  bestMm: number;
  /** Unrounded footage range over the range of the path distance. */
  fromMm: number;
  toMm: number;
  /** Standard uncertainty that the path distance gives to each of the three. */
  uMm: number;
  /** True upstream of the weld point: to be confirmed when the material passes it. */
  predicted: boolean;
}

/** @param net the net length map with the cut-outs known to have happened by then */
export function materialAtStation(weldFootageMm: number, path: PathDistance | number, net: PiecewiseLinearMap): StationMaterial {
  const { minMm, maxMm, uMm } = typeof path === 'number' ? { minMm: path, maxMm: path, uMm: 0 } : path;
  const middleMm = (minMm + maxMm) / 2;
  const footageAt = (pathMm: number) =>
    pathMm < 0 ? weldFootageMm - pathMm : net.upperInverseAt(net.at(weldFootageMm) - pathMm);
  return { bestMm: footageAt(middleMm), fromMm: footageAt(maxMm), toMm: footageAt(minMm), uMm, predicted: middleMm < 0 };
}
