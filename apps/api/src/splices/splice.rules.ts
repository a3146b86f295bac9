import type { Interval } from '#libs/intervals';
import type { FieldProblem } from '../http/problem.js';
import { outside, type Finding } from '../records/plausibility.js';
import type { SpliceInput } from './splice.dto.js';

const SQUARE_DEG = 90;
/** Common practice, no published source: a weld flatter than this is hardly ever made. */
const FLATTEST_USUAL_DEG = 30;
/** How far a splice may lie from where its coils' segments meet. Our own choice: counters slip, stations have widths. */
const BOUNDARY_TOLERANCE_MM = 2000;

/** A segment of a string, as far as the place of a splice is judged by it. */
export interface SegmentOnString {
  readonly coilId: string;
  readonly span: Interval;
}

/** A splice as it would be written, with the segments of its string by footage. */
export interface SpliceFigures {
  readonly angleDeg: string;
  readonly leavingCoilId: string;
  readonly enteringCoilId: string;
  readonly span: Interval;
  readonly segments: readonly SegmentOnString[];
}

type Said = Pick<SpliceInput, 'leavingCoilId' | 'enteringCoilId' | 'angleDeg' | 'hand' | 'verdict' | 'doubt'>;

/** What of a splice does not go together: a coil with itself, a hand with its angle, a doubt with its verdict. */
export function spliceFaults({ leavingCoilId, enteringCoilId, angleDeg, hand, verdict, doubt }: Said): FieldProblem[] {
  const isSquare = Number(angleDeg) === SQUARE_DEG;
  const isInDoubt = verdict === 'in-doubt';
  return [
    ...(leavingCoilId === enteringCoilId ? [{ field: 'enteringCoilId', value: enteringCoilId, limit: 'another coil than the leaving one' }] : []),
    ...(isSquare === (hand === 'square') ? [] : [{ field: 'hand', value: hand, limit: isSquare ? 'square at 90°' : `left or right at ${angleDeg}°` }]),
    ...(isInDoubt === (doubt == null) ? [{ field: 'doubt', value: doubt ?? null, limit: isInDoubt ? 'what is in doubt' : 'no doubt beside another verdict' }] : []),
  ];
}

/**
 * Pipe that a splice takes, whole mm, at least 1: w / tan α, with w the width of the strip and α the angle of the weld
 * to the strip edge (geometry of a straight cut across a strip).
 */
export function splicePipeLengthMm(widthMm: number, angleDeg: number): number {
  return Math.max(1, Math.round(widthMm / Math.tan((angleDeg * Math.PI) / 180)));
}

/** What is worth a question about a splice: a flat angle, and a place where its coils' segments do not meet. */
export function spliceFindings(splice: SpliceFigures): Finding[] {
  return [
    ...outside('implausible', 'angleDeg', splice.angleDeg, { min: FLATTEST_USUAL_DEG, unit: '°' }),
    ...placeFindings(splice),
  ];
}

function placeFindings({ leavingCoilId, enteringCoilId, span, segments }: SpliceFigures): Finding[] {
  const present = new Set(segments.map(({ coilId }) => coilId));
  if (!present.has(leavingCoilId) || !present.has(enteringCoilId)) return [];
  const edges = meetingPlaces(segments, leavingCoilId, enteringCoilId);
  if (edges.some((edgeMm) => distanceMm(span, edgeMm) <= BOUNDARY_TOLERANCE_MM)) return [];
  const where = edges.length === 0 ? 'they meet nowhere yet' : `they meet at ${[...new Set(edges)].join(', ')} mm`;
  return [{
    tier: 'implausible', field: 'from', value: String(span.fromMm),
    limit: `usually within ${BOUNDARY_TOLERANCE_MM} mm of where the segments of the two coils meet; ${where}`,
  }];
}

/** Footages at which a segment of the leaving coil ends or the next one on the string, of the entering coil, begins. */
function meetingPlaces(segments: readonly SegmentOnString[], leavingCoilId: string, enteringCoilId: string): number[] {
  return segments.flatMap((segment, index) => {
    const next = segments[index + 1];
    if (segment.coilId !== leavingCoilId || next?.coilId !== enteringCoilId) return [];
    return [segment.span.toMm, next.span.fromMm];
  });
}

/** From a place to the nearest end of an interval; 0 inside it. */
function distanceMm({ fromMm, toMm }: Interval, placeMm: number): number {
  return Math.max(0, fromMm - placeMm, placeMm - toMm);
}
