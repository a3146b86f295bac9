/** Footage that is expected somewhere: the best figure, and the interval that its expanded uncertainty leaves. */
import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, rootSumOfSquares, roundMm } from '#libs/length';

export interface Gate {
  /** Whole mm. */
  readonly bestMm: number;
  /** From least to greatest figure with their expanded uncertainties (k = 2), rounded outwards; half-open. */
  readonly span: Interval;
}

/** A figure with the least and the greatest that it may be for reasons of its own (an accumulator), and their standard uncertainty, mm. */
export interface Ranged {
  readonly bestMm: number;
  readonly leastMm: number;
  readonly mostMm: number;
  readonly uMm: number;
}

/** Rounded to a micrometre first, so that the last bits of a sum open no further millimetre. */
export function gateOf({ bestMm, leastMm, mostMm, uMm }: Ranged): Gate {
  const expandedMm = COVERAGE_FACTOR * uMm;
  return {
    bestMm: roundMm(bestMm),
    span: { fromMm: Math.floor(toMicrometre(leastMm - expandedMm)), toMm: Math.ceil(toMicrometre(mostMm + expandedMm)) + 1 },
  };
}

/** How far a place lies outside a gate, mm: negative before it, positive behind it, 0 in it. */
export function outsideMm({ span }: Gate, placeMm: number): number {
  if (placeMm < span.fromMm) return placeMm - span.fromMm;
  return Math.max(0, placeMm - (span.toMm - 1));
}

/** Pipe formed of strip: mm of pipe for each mm of strip, with its standard uncertainty. */
export interface FormingRatio {
  readonly ratio: number;
  readonly u: number;
}

/** Half of the usual range 0.98 to 1.02 of the forming elongation. Common practice, no published source. */
const USUAL_HALF_WIDTH = 0.02;

/** Nothing known of the forming: 1, and the usual range as a rectangular distribution (JCGM 100:2008, 4.3.7). */
export const UNKNOWN_RATIO: FormingRatio = { ratio: 1, u: USUAL_HALF_WIDTH / Math.sqrt(3) };

/** What is left of a coil to become pipe, and where that began. Lengths in mm, every u a standard uncertainty. */
export interface StripAhead {
  /** Where the weld into the coil begins; the beginning of the pipe where no weld leads into it. */
  readonly beginMm: number;
  readonly uBeginMm: number;
  /** Pipe that the weld into it takes, 0 for a square beginning. */
  readonly beginWeldMm: number;
  readonly stripMm: number;
  readonly uStripMm: number;
  readonly forming: FormingRatio;
  /** Pipe that the weld out of it takes. */
  readonly endWeldMm: number;
  /** Relative standard uncertainty of the counter's scale, with which the pipe is counted. */
  readonly scaleRelativeU: number;
}

/**
 * Where the weld at the end of a coil begins, by the length of its strip alone. Along the middle of the strip the coil reaches
 * from the middle of one weld to the middle of the next: p = b + w1/2 + r L − w2/2, with
 * u² = u_b² + (r u_L)² + (L u_r)² + (s r L)² (JCGM 100:2008, 5.1.2), k = 2.
 */
export function stripGate({ beginMm, uBeginMm, beginWeldMm, stripMm, uStripMm, forming, endWeldMm, scaleRelativeU }: StripAhead): Gate {
  const pipeMm = forming.ratio * stripMm;
  const bestMm = beginMm + pipeMm + (beginWeldMm - endWeldMm) / 2;
  const uMm = rootSumOfSquares(uBeginMm, forming.ratio * uStripMm, stripMm * forming.u, scaleRelativeU * pipeMm);
  return gateOf({ bestMm, leastMm: bestMm, mostMm: bestMm, uMm });
}

const toMicrometre = (mm: number): number => Math.round(mm * 1000) / 1000;
