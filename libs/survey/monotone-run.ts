import type { Arc } from './arc.js';

/**
 * Two true vertical depths this close count as one. At a usual build rate (1 degree per 30 m) it moves a measured depth
 * at the turn of the hole by less than 1 mm, and it is far above the rounding of double precision (about 1e-9 mm).
 */
export const TVD_TOLERANCE_MM = 1e-7;

/** A stretch of measured depth, both ends included; a single point has equal ends. */
export interface MdInterval {
  readonly fromMdMm: number;
  readonly toMdMm: number;
}

/** 1 where the hole goes down, -1 where it goes up, 0 where its depth stays the same. */
export type DepthDirection = 1 | 0 | -1;

/** The part of one arc over which true vertical depth keeps its direction. */
export interface MonotonePiece {
  readonly arc: Arc;
  /** Measured and true vertical depth of the arc's upper station. */
  readonly arcMdMm: number;
  readonly arcTvdMm: number;
  readonly fromMdMm: number;
  readonly toMdMm: number;
  readonly fromTvdMm: number;
  readonly toTvdMm: number;
  readonly direction: DepthDirection;
}

/** The longest stretches of neighbouring pieces with one direction, in order of measured depth. */
export function monotoneRuns(pieces: readonly MonotonePiece[]): MonotoneRun[] {
  const groups: [MonotonePiece, ...MonotonePiece[]][] = [];
  for (const piece of pieces) {
    const group = groups.at(-1);
    if (group?.[0].direction === piece.direction) {
      group.push(piece);
    } else {
      groups.push([piece]);
    }
  }
  return groups.map((group) => new MonotoneRun(group));
}

/** A stretch of hole that only goes down, only goes up, or stays at one true vertical depth. */
export class MonotoneRun {
  private readonly first: MonotonePiece;
  private readonly last: MonotonePiece;

  constructor(private readonly pieces: readonly [MonotonePiece, ...MonotonePiece[]]) {
    this.first = pieces[0];
    this.last = pieces.at(-1) ?? pieces[0];
  }

  /** The shallowest and the deepest true vertical depth of the run. */
  tvdRange(): { fromTvdMm: number; toTvdMm: number } {
    const { fromTvdMm: start } = this.first;
    const { toTvdMm: end } = this.last;
    return { fromTvdMm: Math.min(start, end), toTvdMm: Math.max(start, end) };
  }

  /**
   * The one stretch of the run with a true vertical depth in [from, to], or undefined.
   * An end of the run within TVD_TOLERANCE_MM of a limit counts as reaching it, which settles tangency.
   */
  mdIntervalOfTvd(fromTvdMm: number, toTvdMm: number): MdInterval | undefined {
    // Depths are mirrored on a run that goes up, so that one order of the limits serves both.
    const rising = this.first.direction === -1;
    const entry = rising ? -toTvdMm : fromTvdMm;
    const exit = rising ? -fromTvdMm : toTvdMm;
    const start = rising ? -this.first.fromTvdMm : this.first.fromTvdMm;
    const end = rising ? -this.last.toTvdMm : this.last.toTvdMm;
    if (entry > end + TVD_TOLERANCE_MM || exit < start - TVD_TOLERANCE_MM) {
      return undefined;
    }
    return { fromMdMm: this.mdOfEntry(entry, start, end), toMdMm: this.mdOfExit(exit, start, end) };
  }

  private mdOfEntry(entry: number, start: number, end: number): number {
    if (entry <= start + TVD_TOLERANCE_MM) {
      return this.first.fromMdMm;
    }
    return entry >= end - TVD_TOLERANCE_MM ? this.last.toMdMm : this.mdInside(entry);
  }

  private mdOfExit(exit: number, start: number, end: number): number {
    if (exit >= end - TVD_TOLERANCE_MM) {
      return this.last.toMdMm;
    }
    return exit <= start + TVD_TOLERANCE_MM ? this.first.fromMdMm : this.mdInside(exit);
  }

  /** The measured depth of a (mirrored) depth that lies inside the run. */
  private mdInside(mirroredTvd: number): number {
    const piece = this.pieceReaching(mirroredTvd);
    const direction = piece.direction === -1 ? -1 : 1;
    const tvdMm = direction * mirroredTvd;
    if (tvdMm === piece.toTvdMm) {
      return piece.toMdMm;
    }
    const dropMm = tvdMm - piece.arcTvdMm;
    const mdMm = piece.arcMdMm + piece.arc.distanceOfDropMm(dropMm, direction);
    return Math.min(Math.max(mdMm, piece.fromMdMm), piece.toMdMm);
  }

  /** The first piece whose end reaches the (mirrored) depth, found by bisection. */
  private pieceReaching(mirroredTvd: number): MonotonePiece {
    let low = 0;
    let high = this.pieces.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      const { toTvdMm, direction } = this.pieces[middle] ?? this.last;
      const reached = direction === -1 ? -toTvdMm : toTvdMm;
      if (reached >= mirroredTvd) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return this.pieces[low] ?? this.last;
  }
}
