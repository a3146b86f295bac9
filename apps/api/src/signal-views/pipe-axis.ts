import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, LengthError, type Wall } from '#libs/length';
import type { SecondAxisPiece } from '#libs/reports';
import { evenEdges } from '#libs/signals';
import { microseconds } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { StringModel } from '../line/length-models.service.js';
import type { AxisQuestion } from './signal-view-question.js';

const PAST_LAST_TIE = 'past the last tie (default ratio)';

/** An interval of pipe laid out by footage or by depth on a wall. */
export interface PipeAxis {
  readonly by: AxisQuestion['by'];
  readonly interval: Interval;
  /** Edges of equally wide columns, as footage in mm, rising. */
  readonly edgesMm: Float64Array;
  /** The columns lie the other way round: on the inner wall footage falls with depth. */
  readonly isReversed: boolean;
  /** Greatest expanded uncertainty (k = 2) of a depth on it, mm; null by footage. */
  readonly plusMinusMm: number | null;
  /** Where depths rest on an assumed ratio past the last tie. */
  readonly unsure: readonly Interval[];
  /** Where a stretch of footage lies on it, within its ends; in pieces where pipe was cut out. */
  onAxis(footage: Interval): Interval[];
  /** The footage along it, for a second scale; empty where it is footage itself. */
  readonly footagePieces: readonly SecondAxisPiece[];
}

/** Refuses (422) depths that the wall does not reach, and what the string's lengths cannot say. */
export function pipeAxisOf(model: StringModel, question: AxisQuestion, widthPx: number): PipeAxis {
  if (question.by === 'footage') return footageAxis(question.interval, widthPx);
  try {
    return depthAxis(wallOf(model, question), question, widthPx);
  } catch (error) {
    if (error instanceof LengthError) throw refusedField(error.code, 'fromM', question.interval.fromMm / 1000, `depths of the ${question.by} wall: ${error.message}`);
    throw error;
  }
}

function footageAxis(interval: Interval, widthPx: number): PipeAxis {
  return {
    by: 'footage', interval, edgesMm: evenEdges(interval.fromMm, interval.toMm, widthPx), isReversed: false, plusMinusMm: null, unsure: [], footagePieces: [],
    onAxis: (footage) => clipped([footage], interval),
  };
}

function depthAxis(wall: Wall, { by, interval }: AxisQuestion, widthPx: number): PipeAxis {
  const figures = Array.from(evenEdges(interval.fromMm, interval.toMm, widthPx), (mdMm) => wall.footageAt(mdMm).footageMm);
  const isReversed = (figures[0] as number) > (figures.at(-1) as number);
  const { pieces } = wall.piecesAtDepth(interval);
  const widest = pieces.reduce((most, { uMdFromMm, uMdToMm }) => Math.max(most, uMdFromMm, uMdToMm), 0);
  return {
    by, interval, edgesMm: Float64Array.from(isReversed ? figures.reverse() : figures), isReversed, plusMinusMm: Math.ceil(COVERAGE_FACTOR * widest),
    unsure: pieces.filter(({ basisFrom, basisTo }) => basisFrom === PAST_LAST_TIE || basisTo === PAST_LAST_TIE).map(({ md }) => md),
    footagePieces: pieces.map(({ md, footage }) => ({ ...md, startMm: isReversed ? footage.toMm : footage.fromMm, endMm: isReversed ? footage.fromMm : footage.toMm })).sort((a, b) => a.fromMm - b.fromMm),
    onAxis: (footage) => clipped(wall.piecesOfFootage(footage).map(({ md }) => md), interval),
  };
}

function wallOf({ lengths, readings }: StringModel, { by, shoeMdMm, at }: AxisQuestion): Wall {
  if (by === 'outer') return lengths.outerWall();
  if (shoeMdMm !== null) return lengths.innerWall(lengths.shoeAt({ shoeMdMm }));
  const when = at ?? readings.at(-1)?.observedAt;
  if (when === undefined) throw new LengthError('no-readings', 'this string has no counter reading: give shoeMdM to ask at a shoe depth');
  return lengths.innerWall(lengths.shoeAtTime(microseconds(when)));
}

const clipped = (spans: readonly Interval[], { fromMm, toMm }: Interval): Interval[] =>
  spans.map((span) => ({ fromMm: Math.max(span.fromMm, fromMm), toMm: Math.min(span.toMm, toMm) })).filter((span) => span.fromMm < span.toMm);
