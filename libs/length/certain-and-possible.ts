/**
 * Segments whose boundaries are uncertain, as what is nominally, certainly and possibly theirs: a boundary at
 * 41.20 m ± 0.35 m (k = 2) makes two coils possible from 40.85 to 41.55 and neither certain.
 */
import { IntervalSet } from '#libs/intervals';
import { roundMm } from './round-mm.js';
import { COVERAGE_FACTOR } from './uncertainty.js';

/** [fromMm, toMm) with the standard uncertainty of each end. */
export interface UncertainSegment {
  fromMm: number;
  toMm: number;
  uFromMm: number;
  uToMm: number;
}

export interface CertainAndPossible {
  nominal: IntervalSet;
  /** [from + 2u, to − 2u), rounded inwards; nothing of a segment shorter than its doubt. */
  certain: IntervalSet;
  /** [from − 2u, to + 2u), rounded outwards. */
  possible: IntervalSet;
}

/** Segments that touch are taken as one: where pipe of the same kind continues, a boundary's doubt does not matter. */
export function certainAndPossible(segments: readonly UncertainSegment[]): CertainAndPossible {
  const joined = joinTouching(segments);
  const k = COVERAGE_FACTOR;
  return {
    nominal: setOf(joined.map(({ fromMm, toMm }) => [roundMm(fromMm), roundMm(toMm)])),
    certain: setOf(joined.map((s) => [Math.ceil(s.fromMm + k * s.uFromMm), Math.floor(s.toMm - k * s.uToMm)])),
    possible: setOf(joined.map((s) => [Math.floor(s.fromMm - k * s.uFromMm), Math.ceil(s.toMm + k * s.uToMm)])),
  };
}

function joinTouching(segments: readonly UncertainSegment[]): UncertainSegment[] {
  const joined: UncertainSegment[] = [];
  for (const segment of [...segments].sort((a, b) => a.fromMm - b.fromMm)) {
    const last = joined.at(-1);
    if (last === undefined || segment.fromMm > last.toMm) joined.push({ ...segment });
    else if (segment.toMm > last.toMm) Object.assign(last, { toMm: segment.toMm, uToMm: segment.uToMm });
  }
  return joined;
}

function setOf(bounds: readonly (readonly [number, number])[]): IntervalSet {
  return IntervalSet.from(bounds.filter(([from, to]) => from < to).map(([fromMm, toMm]) => ({ fromMm, toMm })));
}
