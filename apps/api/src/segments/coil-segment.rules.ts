import { coilLengthMm, elongationOf } from '#libs/length';
import type { Interval } from '#libs/intervals';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';

/** What the coil's own record says of its size: decimal text as read, length in whole mm. */
export interface CoilSize {
  readonly number: string;
  readonly widthMm: string;
  readonly thicknessMm: string;
  readonly massKg: string;
  readonly lengthMm: number | null;
}

/** A segment as it would be written. */
export interface SegmentFigures {
  readonly span: Interval;
  readonly stripSpan: Interval;
  readonly runs: 'head-first' | 'tail-first';
  readonly coil: CoilSize;
}

/** Strip may end beyond the stated length of its coil by so much, relative. Common practice, no published source. */
const STATED_TOLERANCE = 0.02;
/** The same against the length that the coil's mass gives, which carries the error of the thickness. */
const MASS_TOLERANCE = 0.05;

/** The strip of a segment. Refuses an empty or reversed one with 422. */
export function stripSpanOf({ stripFromMm, stripToMm }: { stripFromMm: number; stripToMm: number }): Interval {
  if (stripToMm <= stripFromMm) {
    throw refusedField('empty-interval', 'stripToMm', stripToMm, `a strip position above ${stripFromMm} mm: the interval is half-open`);
  }
  return { fromMm: stripFromMm, toMm: stripToMm };
}

/**
 * What is worth a question about a segment: a forming elongation outside 0.98–1.02 mm of pipe per mm of strip; strip
 * that ends beyond its coil, by more than 2 % of the stated length or 5 % of the length from its mass.
 */
export function segmentFindings(segment: SegmentFigures): Finding[] {
  return [...elongationFindings(segment), ...strayFindings(segment)];
}

function elongationFindings({ span, stripSpan, runs }: SegmentFigures): Finding[] {
  // Elongation is a matter of two lengths; the record they come from plays no part in it.
  const record = { kind: 'coil-segment', id: '', version: 1 };
  const { ratio, isSuspect } = elongationOf({ record, footage: span, strip: stripSpan, runs });
  if (!isSuspect) return [];
  return [{
    tier: 'implausible', field: 'to', value: ratio.toFixed(5),
    limit: 'usually 0.98 to 1.02 mm of pipe for each mm of strip',
  }];
}

function strayFindings({ stripSpan, coil }: SegmentFigures): Finding[] {
  const fromMassMm = coilLengthMm(Number(coil.massKg), Number(coil.widthMm), Number(coil.thicknessMm));
  const limits = [
    ...(coil.lengthMm === null ? [] : [{ lengthMm: coil.lengthMm, tolerance: STATED_TOLERANCE, basis: 'stated for it' }]),
    { lengthMm: fromMassMm, tolerance: MASS_TOLERANCE, basis: 'its mass, width and thickness give' },
  ];
  return limits
    .filter(({ lengthMm, tolerance }) => stripSpan.toMm > lengthMm * (1 + tolerance))
    .map(({ lengthMm, tolerance, basis }) => ({
      tier: 'implausible', field: 'stripToMm', value: String(stripSpan.toMm),
      limit: `usually within coil ${coil.number}: the ${Math.round(lengthMm)} mm ${basis}, and ${tolerance * 100} %`,
    }));
}
