import type { Interval } from '#libs/intervals';
import { roundMm, stripMap, type PiecewiseLinearMap } from '#libs/length';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';

/** What of a coil segment its two maps are made of. */
export type SegmentSpans = Pick<CoilSegmentVersion, 'id' | 'version' | 'span' | 'stripSpan' | 'runs'>;

/** Footage → strip position, over the whole segment. */
export function stripMapOf({ id, version, span, stripSpan, runs }: SegmentSpans): PiecewiseLinearMap {
  return stripMap({ record: { kind: 'coil-segment', id, version }, footage: span, strip: stripSpan, runs });
}

/** The footage that a segment made of a part of the strip, ends rounded once; null when it holds none of it. */
export function footageOfStrip(segment: SegmentSpans, strip: { fromMm: number; toMm: number }): Interval | null {
  const fromMm = Math.max(strip.fromMm, segment.stripSpan.fromMm);
  const toMm = Math.min(strip.toMm, segment.stripSpan.toMm);
  if (fromMm >= toMm) return null;
  const back = stripMapOf(segment).inverse();
  const [a, b] = [roundMm(back.at(fromMm)), roundMm(back.at(toMm))];
  return a === b ? null : { fromMm: Math.min(a, b), toMm: Math.max(a, b) };
}
