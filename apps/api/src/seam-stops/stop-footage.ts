/** Footage at the weld point when the line stopped, as the record of the stop says it and as the counter's readings do. */
import { COVERAGE_FACTOR, LengthError, rootSumOfSquares, roundMm, type LengthModel, type WeldFootageBasis } from '#libs/length';
import type { FootageAtStop } from './affected-pipe.js';

export interface CountedFootage extends FootageAtStop {
  readonly basis: WeldFootageBasis;
}

/** Of the readings: whole mm; or in words why they say nothing. */
export function countedFootage(lengths: LengthModel, atUs: number): CountedFootage | string {
  try {
    const { footageMm, uMm, basis } = lengths.weldFootageAt(atUs);
    return { footageMm: roundMm(footageMm), uMm, basis };
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    if (error.code === 'no-readings') return 'the master counter has no reading with a footage';
    if (error.code === 'before-the-first-reading') return 'the line stopped before the first reading of the master counter';
    throw error;
  }
}

export interface FootageComparison {
  /** Counter less record, mm. */
  readonly differenceMm: number;
  /** Expanded uncertainty (k = 2) of the difference, both taken as independent, mm rounded up. */
  readonly plusMinusMm: number;
  readonly agrees: boolean;
  /** The readings say where the line was when it stopped; after the last one they only say where it had been. */
  readonly isHeld: boolean;
  readonly words: string;
}

/** Holds the one against the other. Neither is taken for the true one. */
export function compareFootages(stated: FootageAtStop, counted: CountedFootage): FootageComparison {
  const differenceMm = counted.footageMm - stated.footageMm;
  const plusMinusMm = Math.ceil(COVERAGE_FACTOR * rootSumOfSquares(stated.uMm, counted.uMm));
  const agrees = Math.abs(differenceMm) <= plusMinusMm;
  const isHeld = counted.basis !== 'after the last reading';
  return { differenceMm, plusMinusMm, agrees, isHeld, words: inWords(differenceMm, plusMinusMm, agrees, isHeld) };
}

function inWords(differenceMm: number, plusMinusMm: number, agrees: boolean, isHeld: boolean): string {
  const said = differenceMm === 0 ? 'counter and record say the same' : `the counter says ${Math.abs(differenceMm)} mm ${differenceMm > 0 ? 'more' : 'less'} than the record`;
  if (!isHeld) return `${said}, but its last reading is before the stop and the line may have run since: the intervals rest on the record alone`;
  if (differenceMm === 0) return said;
  return agrees
    ? `${said}, within ± ${plusMinusMm} mm: the intervals take in both`
    : `${said}, which ± ${plusMinusMm} mm does not explain: the intervals take in both, and one of the two needs correcting`;
}
