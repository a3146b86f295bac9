import { rootSumOfSquares, type CoilUse } from '#libs/length';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { stripMapOf } from '../trace/strip-footage.js';
import { knownCoilLength, type CoilSizes, type KnownCoilLength } from './known-coil-length.js';

export type UsedSegment = Pick<
  CoilSegmentVersion, 'id' | 'version' | 'coilId' | 'stringId' | 'span' | 'stripSpan' | 'runs' | 'fromUMm' | 'toUMm'
>;

export interface UsedCoil extends CoilSizes {
  readonly id: string;
  readonly version: number;
  readonly cropMm: number;
  readonly restMm: number;
}

/** A coil's strip as one string used it, mm. */
export interface StripUse {
  readonly coilId: string;
  readonly known: KnownCoilLength;
  readonly cropMm: number;
  readonly restMm: number;
  readonly onOtherStringsMm: number;
  /** Strip of this string's segments that had not passed the weld point yet. */
  readonly notYetFormedMm: number;
  /** Length less all of these. */
  readonly consumedMm: number;
  readonly use: CoilUse;
}

/**
 * What a string had used of a coil when `madeMm` of pipe was made: its length less crops, rest, what segments on other
 * strings took, and what this string's segments are still to be made of.
 */
export function stripUse(coil: UsedCoil, segments: readonly UsedSegment[], stringId: string, madeMm: number): StripUse {
  const known = knownCoilLength(coil);
  const own = segments.filter((segment) => segment.coilId === coil.id);
  const onOtherStringsMm = sum(own.filter((segment) => segment.stringId !== stringId).map(({ stripSpan }) => stripSpan.toMm - stripSpan.fromMm));
  const notYetFormedMm = sum(own.filter((segment) => segment.stringId === stringId).map((segment) => stripAboveMm(segment, madeMm)));
  const restMm = coil.restMm + onOtherStringsMm + notYetFormedMm;
  return {
    coilId: coil.id,
    known,
    cropMm: coil.cropMm,
    restMm: coil.restMm,
    onOtherStringsMm,
    notYetFormedMm,
    consumedMm: known.mm - coil.cropMm - restMm,
    use: {
      record: { kind: 'coil', id: coil.id, version: coil.version },
      lengthMm: known.mm,
      uLengthMm: known.uMm,
      cropsMm: coil.cropMm,
      restMm,
    },
  };
}

function stripAboveMm(segment: UsedSegment, madeMm: number): number {
  const { span, stripSpan } = segment;
  if (madeMm >= span.toMm) return 0;
  if (madeMm <= span.fromMm) return stripSpan.toMm - stripSpan.fromMm;
  const map = stripMapOf(segment);
  return Math.abs(map.at(span.toMm) - map.at(madeMm));
}

/** Forming elongation over all segments of a string: Σ footage / Σ strip, u from the ends' own; null without segments. */
export function formingElongation(segments: readonly UsedSegment[]): { ratio: number; u: number } | null {
  const stripMm = sum(segments.map(({ stripSpan }) => stripSpan.toMm - stripSpan.fromMm));
  if (stripMm === 0) return null;
  const footageMm = sum(segments.map(({ span }) => span.toMm - span.fromMm));
  const uMm = rootSumOfSquares(...segments.flatMap(({ fromUMm, toUMm }) => [Number(fromUMm), Number(toUMm)]));
  return { ratio: footageMm / stripMm, u: uMm / stripMm };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
