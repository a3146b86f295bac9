import { IntervalSet, type Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, LengthError, type LengthModel, type Shoe, type Wall, type WallPiece } from '#libs/length';
import type { WellPath } from '#libs/survey';
import type { SpliceVersion } from '../splices/splice.entity.js';
import { gapsOf, type Gap } from './gaps.js';
import type { Ground, PipeCut, PipeSegment } from './ground.js';

/** A depth's expanded uncertainty (k = 2), rounded outwards. */
export const plusMinus = (uMm: number): number => Math.ceil(COVERAGE_FACTOR * uMm);

/** Where something stands on a wall: its piece of pipe, how sure each end is, and the widest that it can reach. */
export interface Placed {
  readonly piece: WallPiece;
  readonly uFromMm: number;
  readonly uToMm: number;
  readonly possible: Interval;
}

/** Something on record with a place of its own on the pipe. */
interface OnPipe {
  readonly span: Interval;
  readonly fromUMm: string;
  readonly toUMm: string;
}

/** A cut-out's re-join on a wall: the depth and its standard uncertainty. */
export interface PlacedCut {
  readonly cut: PipeCut;
  readonly mdMm: number;
  readonly uMm: number;
}

/**
 * One wall of a string with the fold at one depth, and what of the pipe's own records stands on it. Made once and asked
 * often: what does not depend on the question is worked out here.
 */
export class WallView {
  readonly segments: readonly (Placed & { readonly of: PipeSegment })[];
  readonly splices: readonly (Placed & { readonly of: SpliceVersion })[];
  readonly cuts: readonly PlacedCut[];
  /** What is missing about the pipe itself, whatever is asked. */
  readonly gaps: readonly Gap[];
  readonly path: WellPath | null;

  constructor(
    readonly wall: Wall,
    readonly lengths: LengthModel,
    ground: Ground,
  ) {
    const { pipe } = ground;
    this.path = ground.path;
    this.gaps = gapsOf(pipe);
    this.segments = pipe.segments.flatMap((of) => this.placed(of.segment).map((place) => ({ ...place, of }))).sort(byDepth);
    this.splices = pipe.splices.flatMap((of) => this.placed(of).map((place) => ({ ...place, of }))).sort(byDepth);
    this.cuts = pipe.cuts.flatMap((cut) => this.placedCut(cut)).sort((a, b) => a.mdMm - b.mdMm);
  }

  /** The places on this wall of something on the pipe; none when it stands elsewhere, several around a cut-out. */
  placed(row: OnPipe): Placed[] {
    const [own, otherOwn] = [Number(row.fromUMm), Number(row.toUMm)];
    // Footage rises downwards in the outer wall and upwards in the inner one.
    const [upperOwn, lowerOwn] = this.wall.name === 'outer' ? [own, otherOwn] : [otherOwn, own];
    return this.wall.piecesOfFootage(row.span).map((piece) => {
      const uFromMm = Math.hypot(piece.uMdFromMm, piece.ratioFrom * upperOwn);
      const uToMm = Math.hypot(piece.uMdToMm, piece.ratioTo * lowerOwn);
      const possible = { fromMm: piece.md.fromMm - plusMinus(uFromMm), toMm: piece.md.toMm + plusMinus(uToMm) };
      return { piece, uFromMm, uToMm, possible };
    });
  }

  private placedCut(cut: PipeCut): PlacedCut[] {
    try {
      const { mdMm, uMm } = this.wall.mdAt(cut.cutOut.span.toMm, Number(cut.cutOut.toUMm));
      return [{ cut, mdMm: Math.round(mdMm), uMm }];
    } catch (error) {
      if (error instanceof LengthError) return [];
      throw error;
    }
  }
}

const byDepth = (a: Placed, b: Placed): number =>
  a.piece.md.fromMm - b.piece.md.fromMm || a.piece.md.toMm - b.piece.md.toMm;

/** Both walls with the fold where `shoe` says. */
export function viewsAt(lengths: LengthModel, ground: Ground, shoe: Shoe): readonly [WallView, WallView] {
  return [
    new WallView(lengths.outerWall(shoe), lengths, ground),
    new WallView(lengths.innerWall(shoe), lengths, ground),
  ];
}

/** What one wall is asked: the depths, the footage they mean there, and how far that may be off (k = 2, as footage). */
export interface AskedOnWall {
  readonly md: IntervalSet;
  readonly footage: IntervalSet;
  readonly doubtMm: number;
}

/** The question to one wall: depths turned into footage, or footage into depths. */
export function askedOn({ wall }: WallView, md: IntervalSet | null, footage: IntervalSet | null): AskedOnWall {
  const pieces =
    md === null
      ? (footage ?? IntervalSet.empty).intervals.flatMap((interval) => wall.piecesOfFootage(interval))
      : md.intervals.flatMap((interval) => reached(wall, interval));
  const doubts = pieces.flatMap(({ uMdFromMm, uMdToMm, ratioFrom, ratioTo }) => [uMdFromMm / ratioFrom, uMdToMm / ratioTo]);
  return {
    md: md ?? IntervalSet.from(pieces.map((piece) => piece.md)),
    footage: IntervalSet.from(pieces.map((piece) => piece.footage)),
    doubtMm: Math.ceil(COVERAGE_FACTOR * Math.max(0, ...doubts)),
  };
}

/** The pieces of a depth interval; none when the wall reaches nothing of it. */
function reached(wall: Wall, interval: Interval): readonly WallPiece[] {
  const beyond = wall.beyond(interval);
  const [first] = beyond;
  if (first !== undefined && IntervalSet.from(beyond.map(({ md }) => md)).covers(interval)) return [];
  return wall.piecesAtDepth(interval).pieces;
}
