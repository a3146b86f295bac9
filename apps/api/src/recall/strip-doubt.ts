import type { UncertainSegment } from '#libs/length';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import { footageOfStrip } from '../trace/strip-footage.js';

type UncertainCoilSegment = Pick<CoilSegmentVersion, 'id' | 'version' | 'span' | 'stripSpan' | 'runs' | 'fromUMm' | 'toUMm'>;

/** A whole coil segment with the doubt of its own ends. */
export const wholeSegment = ({ span, fromUMm, toUMm }: UncertainCoilSegment): UncertainSegment =>
  ({ ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) });

/**
 * The footage that a segment made of a part of its strip, or null. Position along a segment is interpolated between its
 * ends, so its doubt is too: u = (1 − f) u_from + f u_to, the ends' errors taken as fully correlated.
 */
export function partOfSegment(segment: UncertainCoilSegment, strip: { fromMm: number; toMm: number }): UncertainSegment | null {
  const footage = footageOfStrip(segment, strip);
  if (footage === null) return null;
  const { span, fromUMm, toUMm } = segment;
  const uAt = (footageMm: number): number => {
    const f = (footageMm - span.fromMm) / (span.toMm - span.fromMm);
    return (1 - f) * Number(fromUMm) + f * Number(toUMm);
  };
  return { ...footage, uFromMm: uAt(footage.fromMm), uToMm: uAt(footage.toMm) };
}
