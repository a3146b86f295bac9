import { COVERAGE_FACTOR, roundMm, rootSumOfSquares, type DistanceToStation } from '#libs/length';
import type { LineStation } from '../line/line-knowledge.js';
import type { StationAhead } from './whereabouts.dto.js';

/** How well the place of a metre on the line is known. */
export interface OnTheLineDoubt {
  /** Standard uncertainty of the footage at the weld point, mm. */
  readonly weldUMm: number;
  /** Relative standard uncertainty of the counter's scale. */
  readonly scaleRelativeU: number;
  /** Distance past the weld point, mm: counted with that scale. */
  readonly pathMm: number;
}

/**
 * What is still ahead of a metre on the line, nearest first. Each distance carries
 * u² = u_station² + u_F² + (s · path)², shown as ± with k = 2; a station that may have been passed already (behind a
 * strip accumulator) shows 0 as the least.
 */
export function shownDistances(
  distances: readonly DistanceToStation[],
  stations: readonly LineStation[],
  { weldUMm, scaleRelativeU, pathMm }: OnTheLineDoubt,
): StationAhead[] {
  return distances.map(({ name, bestMm, minMm, maxMm, uMm }) => ({
    name,
    isHangOff: stations.some((station) => station.name === name && station.role === 'hang-off'),
    bestMm: Math.max(0, roundMm(bestMm)),
    leastMm: Math.max(0, roundMm(minMm)),
    mostMm: roundMm(maxMm),
    plusMinusMm: Math.ceil(COVERAGE_FACTOR * rootSumOfSquares(uMm, weldUMm, scaleRelativeU * pathMm)),
  }));
}
