/**
 * The pipe that a stop of the line affects at one station: what stood there, a half length of influence to both sides.
 * Pipe is counted in cells of one millimetre: the cell at footage p is [p, p + 1), as of a record at a single place.
 */
import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, materialAtStation, rootSumOfSquares, roundMm, type PathDistance, type PiecewiseLinearMap } from '#libs/length';

/** Footage at the weld point when the line stopped: whole mm, and its standard uncertainty. */
export interface FootageAtStop {
  readonly footageMm: number;
  readonly uMm: number;
}

export interface StoppedLine {
  /** Net length with the cut-outs made by the time of the stop. */
  readonly net: PiecewiseLinearMap;
  /** Relative standard uncertainty of the counter's scale: the pipe out to a station was counted with it. */
  readonly scaleRelativeU: number;
  /** Half length of influence along the pipe, whole mm. */
  readonly influenceMm: number;
}

export interface AffectedPipe {
  /** Footage for the middle of the station's path; null where that lies before the lead end. */
  readonly nearestMm: number | null;
  /** Affected wherever in its doubt the station was; null when nothing is. */
  readonly certain: Interval | null;
  /** Affected if the station was anywhere in its doubt. */
  readonly possible: Interval;
}

/** Why no pipe is affected at a station: only strip was there, or the pipe did not reach it yet. */
export type NoPipe = 'strip-only' | 'not-reached';

/**
 * The material at a path distance x is p(x) = n⁻¹(n(F) − x). With the doubt d = k √(u_F² + u_x² + (s x)²), k = 2, of each
 * end of the path [x1, x2] and a half length of influence h, both laid along the pipe (over cuts made by then):
 * possibly affected is [p(x2 + d2 + h), p(x1 − d1 − h) + 1), rounded outwards;
 * certainly affected is [p(x1 − d1 + h), p(x2 + d2 − h) + 1), rounded inwards.
 * Upstream of x = 0 p is the future footage of the strip: what was heated there became pipe after the line ran on.
 */
export function affectedPipe({ footageMm, uMm }: FootageAtStop, path: PathDistance, { net, scaleRelativeU, influenceMm }: StoppedLine): AffectedPipe | NoPipe {
  if (path.maxMm < 0) return 'strip-only';
  const materialAt = (pathMm: number): number => toMicrometre(materialAtStation(footageMm, pathMm, net).bestMm);
  const doubtMm = (pathMm: number): number => COVERAGE_FACTOR * rootSumOfSquares(uMm, path.uMm, scaleRelativeU * pathMm);
  const leastMm = path.minMm - doubtMm(path.minMm);
  const mostMm = path.maxMm + doubtMm(path.maxMm);
  const possible = madeOf(Math.floor(materialAt(mostMm + influenceMm)), Math.ceil(materialAt(leastMm - influenceMm)) + 1);
  if (possible === null) return 'not-reached';
  const nearestMm = roundMm(materialAt((path.minMm + path.maxMm) / 2));
  const certain = madeOf(Math.ceil(materialAt(leastMm + influenceMm)), Math.floor(materialAt(mostMm - influenceMm)) + 1);
  return { nearestMm: nearestMm < 0 ? null : nearestMm, certain, possible };
}

/**
 * What two figures for the same stop say together, neither being chosen: certain is what both say is certain, possible all
 * between the least and the greatest of either.
 */
export function eitherWay(one: AffectedPipe | NoPipe, other: AffectedPipe | NoPipe): Omit<AffectedPipe, 'nearestMm'> | NoPipe {
  if (typeof one === 'string') return typeof other === 'string' ? one : { certain: null, possible: other.possible };
  if (typeof other === 'string') return { certain: null, possible: one.possible };
  return {
    certain: one.certain === null || other.certain === null
      ? null
      : madeOf(Math.max(one.certain.fromMm, other.certain.fromMm), Math.min(one.certain.toMm, other.certain.toMm)),
    possible: {
      fromMm: Math.min(one.possible.fromMm, other.possible.fromMm),
      toMm: Math.max(one.possible.toMm, other.possible.toMm),
    },
  };
}

/** The part of [fromMm, toMm) that is footage; null when none is. */
function madeOf(fromMm: number, toMm: number): Interval | null {
  const from = Math.max(0, fromMm);
  return from < toMm ? { fromMm: from, toMm } : null;
}

/** Sums of fractions that are whole numbers must not be rounded outwards by a whole millimetre. */
const toMicrometre = (mm: number): number => Math.round(mm * 1000) / 1000;
