import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, LengthError, type Wall } from '#libs/length';
import type { SecondAxisPiece } from '#libs/reports';
import { evenEdges } from '#libs/signals';
import { microseconds } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import type { StringModel } from '../line/length-models.service.js';
import { besides, NOTHING_DRAWN, type PipeColumn } from '../signals/envelope-views.service.js';
import type { AxisQuestion } from './signal-view-question.js';

const PAST_LAST_TIE = 'past the last tie (default ratio)';

/** An interval of pipe laid out by footage or by depth on a wall. */
export interface PipeAxis {
  readonly by: AxisQuestion['by'];
  readonly interval: Interval;
  /** Edges, as footage in mm, rising: of equally wide columns, and of pipe cut out between or within them. */
  readonly edgesMm: Float64Array;
  /** Greatest expanded uncertainty (k = 2) of a depth on it, mm; null by footage. */
  readonly plusMinusMm: number | null;
  /** Where depths rest on an assumed ratio past the last tie. */
  readonly unsure: readonly Interval[];
  /** What was drawn between each two edges as columns along it; pipe that was cut out is in none. */
  columnsOf(drawn: readonly PipeColumn[]): PipeColumn[];
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
    by: 'footage', interval, edgesMm: evenEdges(interval.fromMm, interval.toMm, widthPx), columnsOf: (drawn) => [...drawn], plusMinusMm: null, unsure: [], footagePieces: [],
    onAxis: (footage) => clipped([footage], interval),
  };
}

function depthAxis(wall: Wall, { by, interval }: AxisQuestion, widthPx: number): PipeAxis {
  const figures = Array.from(evenEdges(interval.fromMm, interval.toMm, widthPx), (mdMm) => wall.footageAt(mdMm).footageMm);
  const isReversed = (figures[0] as number) > (figures.at(-1) as number);
  const { pieces } = wall.piecesAtDepth(interval);
  const { edgesMm, owners } = cutAt(Float64Array.from(isReversed ? figures.reverse() : figures), pieces.map(({ footage }) => footage));
  const widest = pieces.reduce((most, { uMdFromMm, uMdToMm }) => Math.max(most, uMdFromMm, uMdToMm), 0);
  return {
    by, interval, edgesMm, plusMinusMm: Math.ceil(COVERAGE_FACTOR * widest),
    columnsOf: (drawn) => (isReversed ? gathered(drawn, owners, widthPx).reverse() : gathered(drawn, owners, widthPx)),
    unsure: pieces.filter(({ basisFrom, basisTo }) => basisFrom === PAST_LAST_TIE || basisTo === PAST_LAST_TIE).map(({ md }) => md),
    footagePieces: pieces.map(({ md, footage }) => ({ ...md, startMm: isReversed ? footage.toMm : footage.fromMm, endMm: isReversed ? footage.fromMm : footage.toMm })).sort((a, b) => a.fromMm - b.fromMm),
    onAxis: (footage) => clipped(wall.piecesOfFootage(footage).map(({ md }) => md), interval),
  };
}

/**
 * Edges of columns with those of the pipe between the pieces that are left, and to which column the footage between each two
 * belongs: to none where it was cut out.
 */
function cutAt(edgesMm: Float64Array, left: readonly Interval[]): { readonly edgesMm: Float64Array; readonly owners: readonly (number | null)[] } {
  // A piece is rounded: what lies less than a millimetre past the outermost is theirs.
  const lastMm = edgesMm.at(-1) as number;
  const gaps = left.map(({ toMm }, index) => ({ fromMm: toMm, toMm: left[index + 1]?.fromMm ?? (lastMm > toMm + 1 ? lastMm : toMm) }));
  const [edges, owners]: [number[], (number | null)[]] = [[edgesMm[0] as number], []];
  const reach = (edge: number, owner: number | null): void => { owners.push(owner); edges.push(edge); };
  for (let column = 0; column + 1 < edgesMm.length; column += 1) {
    const end = edgesMm[column + 1] as number;
    for (const gap of gaps) {
      const [from, to] = [Math.max(gap.fromMm, edges.at(-1) as number), Math.min(gap.toMm, end)];
      if (from >= to) continue;
      if (from > (edges.at(-1) as number)) reach(from, column);
      reach(to, null);
    }
    if ((edges.at(-1) as number) < end) reach(end, column);
  }
  return { edgesMm: Float64Array.from(edges), owners };
}

/** Each column of all that belongs to it. */
function gathered(drawn: readonly PipeColumn[], owners: readonly (number | null)[], width: number): PipeColumn[] {
  const columns: PipeColumn[] = Array.from({ length: width }, () => NOTHING_DRAWN);
  drawn.forEach((part, index) => {
    const owner = owners[index] ?? null;
    if (owner !== null) columns[owner] = besides(columns[owner] as PipeColumn, part);
  });
  return columns;
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
