/**
 * Footage to strip: footage [a, b) of a string was made from strip positions [u, v) of a coil, measured from the coil's
 * head. Run head first, the strip position rises with footage; tail first, it falls.
 */
import type { RecordRef } from '#libs/explanation';
import { refuseEmptyOrReversed } from './length-error.js';
import { PiecewiseLinearMap } from './piecewise-linear-map.js';
import type { Span } from './wall.js';

export interface CoilSegment {
  record: RecordRef;
  footage: Span;
  strip: Span;
  runs: 'head-first' | 'tail-first';
}

/** Forming elongation (b − a) / (v − u): mm of pipe per mm of strip. */
export interface Elongation {
  ratio: number;
  /** Outside 0.98–1.02: a wrong length, a wrong segment, or strip not accounted for. */
  isSuspect: boolean;
}

/** Common practice, no published source: strip is formed to pipe with next to no change of length. */
const ELONGATION_EXPECTED = { min: 0.98, max: 1.02 };

/** Footage → strip position, from one end of the segment to the other. @throws LengthError for an empty or reversed interval */
export function stripMap({ footage, strip, runs }: CoilSegment): PiecewiseLinearMap {
  refuseEmptyOrReversed(footage);
  refuseEmptyOrReversed(strip);
  const [first, last] = runs === 'head-first' ? [strip.fromMm, strip.toMm] : [strip.toMm, strip.fromMm];
  return PiecewiseLinearMap.through(
    [
      { x: footage.fromMm, y: first },
      { x: footage.toMm, y: last },
    ],
    { before: null, after: null },
  );
}

/** @throws LengthError for an empty or reversed interval */
export function elongationOf({ footage, strip }: CoilSegment): Elongation {
  refuseEmptyOrReversed(footage);
  refuseEmptyOrReversed(strip);
  const ratio = (footage.toMm - footage.fromMm) / (strip.toMm - strip.fromMm);
  return { ratio, isSuspect: ratio < ELONGATION_EXPECTED.min || ratio > ELONGATION_EXPECTED.max };
}
