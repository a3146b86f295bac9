import { IntervalSet, type Interval } from '#libs/intervals';
import { certainAndPossible, COVERAGE_FACTOR, type CertainAndPossible, type UncertainSegment, type Wall, type WallPiece } from '#libs/length';

/**
 * What is certainly, nominally and possibly of uncertain segments. Touching segments are one; what is possible is the
 * union of what is possible of each, so that of two records with one end the more doubtful one counts.
 */
export function setsOf(segments: readonly UncertainSegment[]): CertainAndPossible {
  const each = segments.flatMap((segment) => certainAndPossible([segment]).possible.intervals);
  return { ...certainAndPossible(segments), possible: IntervalSet.from(each) };
}

/** The same for footage, none of which lies below 0. */
export function footageSetsOf(spans: readonly UncertainSegment[]): CertainAndPossible {
  const { nominal, certain, possible } = setsOf(spans);
  return { nominal, certain, possible: possible.intersect({ fromMm: 0, toMm: Number.MAX_SAFE_INTEGER }) };
}

/**
 * The depths at which uncertain footage stands on a wall. An end of a span carries √(u_wall² + (ratio · u_span)²); an
 * end of the wall, or at a cut-out, the wall's own. Where doubt lets a span reach a wall, or the other side of a
 * cut-out, that its best estimate does not, the reach (k = 2) is mapped and widened by the wall's doubt.
 */
export function depthsOn(wall: Wall, spans: readonly UncertainSegment[]): CertainAndPossible {
  const placed = spans.map((span) => ({ span, pieces: wall.piecesOfFootage(span) }));
  const sets = setsOf(placed.flatMap(({ span, pieces }) => pieces.map((piece) => withOwnDoubt(wall, span, piece))));
  const reach = IntervalSet.from(placed.flatMap(({ span, pieces }) => reachOf(wall, span, pieces)));
  return { ...sets, possible: sets.possible.union(reach) };
}

function withOwnDoubt({ name }: Wall, span: UncertainSegment, piece: WallPiece): UncertainSegment {
  const { md, footage, uMdFromMm, uMdToMm } = piece;
  // Of the piece as a whole: the wall's own ratio is not defined at ends that were rounded outwards.
  const ratio = (md.toMm - md.fromMm) / Math.max(1, footage.toMm - footage.fromMm);
  const lower = footage.fromMm === span.fromMm ? ratio * span.uFromMm : 0;
  const upper = footage.toMm === span.toMm ? ratio * span.uToMm : 0;
  const [atTop, atBottom] = name === 'outer' ? [lower, upper] : [upper, lower];
  return { fromMm: md.fromMm, toMm: md.toMm, uFromMm: Math.hypot(uMdFromMm, atTop), uToMm: Math.hypot(uMdToMm, atBottom) };
}

function reachOf(wall: Wall, span: UncertainSegment, pieces: readonly WallPiece[]): Interval[] {
  const beginsHere = pieces.some(({ footage }) => footage.fromMm === span.fromMm);
  const endsHere = pieces.some(({ footage }) => footage.toMm === span.toMm);
  const below = { fromMm: Math.max(0, Math.floor(span.fromMm - COVERAGE_FACTOR * span.uFromMm)), toMm: span.fromMm };
  const above = { fromMm: span.toMm, toMm: Math.ceil(span.toMm + COVERAGE_FACTOR * span.uToMm) };
  return [...(beginsHere ? [] : [below]), ...(endsHere ? [] : [above])]
    .filter(({ fromMm, toMm }) => fromMm < toMm)
    .flatMap((reach) => wall.piecesOfFootage(reach))
    .map(({ md, uMdFromMm, uMdToMm }) => ({
      fromMm: Math.floor(md.fromMm - COVERAGE_FACTOR * uMdFromMm),
      toMm: Math.ceil(md.toMm + COVERAGE_FACTOR * uMdToMm),
    }));
}
