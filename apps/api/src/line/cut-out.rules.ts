import type { Interval } from '#libs/intervals';
import type { Finding } from '../records/plausibility.js';

/** What was on the line when the pipe was cut, mm of footage; null where not known. */
export interface OnTheLine {
  /** Material at the hang-off: below it the pipe is in the well. */
  readonly hangOffMm: number | null;
  /** Footage at the weld point: above it no pipe is made. */
  readonly weldMm: number | null;
}

/** Pipe is cut on the line, between the weld point and the hang-off. */
export function cutOutFindings({ fromMm, toMm }: Interval, { hangOffMm, weldMm }: OnTheLine): Finding[] {
  const found = (field: string, value: number, limit: string): Finding => ({ tier: 'implausible', field, value: String(value), limit });
  return [
    ...(hangOffMm !== null && fromMm < Math.floor(hangOffMm)
      ? [found('from', fromMm, `usually at least ${Math.floor(hangOffMm)} mm, the pipe at the hang-off then: below it lies in the well`)]
      : []),
    ...(weldMm !== null && toMm > Math.ceil(weldMm)
      ? [found('to', toMm, `usually at most ${Math.ceil(weldMm)} mm, the footage at the weld point then: above it no pipe was made`)]
      : []),
  ];
}

/** The usual greatest speed of a line: how much pipe may have been made since the last reading. Table of usual values. */
const USUAL_MM_PER_US = 40_000 / 60e6;

/** The most that may have been made by `atUs`, after the last reading known before it. */
export const mostMadeMm = (last: { readonly footageMm: number; readonly atUs: number }, atUs: number): number =>
  last.footageMm + (atUs - last.atUs) * USUAL_MM_PER_US;
