/**
 * Everything the lengths of one string rest on, as plain data. Positions in mm, times in microseconds UTC since 1970,
 * every u… a standard uncertainty (1σ) in the unit of its value.
 */
import type { RecordRef } from '#libs/explanation';
import type { CounterPeriod } from './counter.js';

/** Pipe removed from the string: footage [fromMm, toMm), rejoined by a pipe weld. */
export interface CutOut {
  record: RecordRef;
  fromMm: number;
  toMm: number;
  atUs: number;
}

/** The datum at the well where the turned-back end of the pipe is fixed. */
export interface HangOff {
  record: RecordRef;
  footageMm: number;
  mdMm: number;
  uFootageMm: number;
  uMdMm: number;
  atUs: number;
}

/** Path distance from the weld point to the hang-off, from a line set-up that is valid from a time. */
export interface HangOffPath {
  record: RecordRef;
  validFromUs: number;
  pathMm: number;
  uPathMm: number;
}

/** Metres of outer wall made from one metre of inner pipe, used where no shoe tie says otherwise. */
export interface DefaultRatio {
  record: RecordRef | null;
  lambda: number;
  u: number;
}

/** A time at which both the shoe depth and the footage at the weld point are known. */
export interface ShoeTie {
  record: RecordRef;
  atUs: number;
  weldFootageMm: number;
  shoeMdMm: number;
  uShoeMm: number;
}

/** Footage at the weld point at a time, already turned from a counter reading into a footage. */
export interface WeldFootage {
  record: RecordRef;
  atUs: number;
  footageMm: number;
  /** The counter period and the reading as it was read; null when the footage was established otherwise. */
  readIn: { period: CounterPeriod; reading: number } | null;
}

export interface StringLengths {
  cutOuts: readonly CutOut[];
  hangOff: HangOff | null;
  hangOffPath: readonly HangOffPath[];
  defaultRatio: DefaultRatio;
  shoeTies: readonly ShoeTie[];
  /** Sorted by time; a reversal of the line makes the footage fall. */
  weldFootage: readonly WeldFootage[];
  /** Relative standard uncertainty of the counter's scale. */
  scaleRelativeU: number;
  /** Mean diameter of the outer wall over that of the inner wall; null when not known. */
  kappa: number | null;
}
