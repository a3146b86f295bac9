import type { IntervalSet } from '#libs/intervals';

/** A stretch of time in which the channel's probe went evenly along the pipe; of equal footage while the line stood. */
export interface Piece {
  /** Microseconds since 1970 UTC; equal to `toUs` for footage of which one instant alone is known. */
  readonly fromUs: number;
  readonly toUs: number;
  /** Footage under the probe at `fromUs` and `toUs`, whole mm; falling on a reversal. */
  readonly fromMm: number;
  readonly toMm: number;
}

/** What one channel inspected without a break of its own. */
export interface InspectionRun {
  readonly id: string;
  /** In any order; those of a channel should not overlap in time. */
  readonly pieces: readonly Piece[];
  /** Footage for which the signal was valid; the rest of the pieces counts as not inspected. */
  readonly valid: IntervalSet;
  /** False while it goes on. */
  readonly ended: boolean;
}

/** The pieces in order of time. Throws RangeError naming the run, the field and the value on what is no whole number, or ends before it begins. */
export function piecesInOrder({ id, pieces }: InspectionRun): readonly Piece[] {
  for (const piece of pieces) {
    for (const [field, value] of Object.entries(piece)) {
      if (!Number.isSafeInteger(value)) throw new RangeError(`run ${id}: ${field} is not a whole number: ${value}`);
    }
    if (piece.toUs < piece.fromUs) throw new RangeError(`run ${id}: a piece ends before it begins: ${piece.fromUs} to ${piece.toUs} µs`);
  }
  return pieces.toSorted((a, b) => a.fromUs - b.fromUs || a.toUs - b.toUs || a.fromMm - b.fromMm || a.toMm - b.toMm);
}

/** Whole millimetres that the probe was over, partly or wholly, from `fromUs` to `toUs`, both within a moving piece; exact. */
export function footageBetween(piece: Piece, fromUs: number, toUs: number): { readonly fromMm: number; readonly toMm: number } {
  if (piece.fromUs === piece.toUs) return { fromMm: Math.min(piece.fromMm, piece.toMm), toMm: Math.max(piece.fromMm, piece.toMm) };
  const [first, last] = piece.fromMm < piece.toMm ? [fromUs, toUs] : [toUs, fromUs];
  return { fromMm: footageAt(piece, first, 'down'), toMm: footageAt(piece, last, 'up') };
}

/** Millimetres times microseconds are beyond what a double holds exactly. */
function footageAt({ fromUs, toUs, fromMm, toMm }: Piece, atUs: number, rounded: 'down' | 'up'): number {
  const product = BigInt(toMm - fromMm) * BigInt(atUs - fromUs);
  const duration = BigInt(toUs - fromUs);
  const quotient = product / duration;
  const rest = product % duration;
  if (rounded === 'down') return fromMm + Number(quotient) - (rest < 0n ? 1 : 0);
  return fromMm + Number(quotient) + (rest > 0n ? 1 : 0);
}

/** Pieces one after the other that read no millimetre twice: they go one way, and none begins before the end of the former. */
export function strokes(pieces: readonly Piece[]): readonly (readonly Piece[])[] {
  const found: Piece[][] = [];
  for (const piece of pieces) {
    const direction = Math.sign(piece.toMm - piece.fromMm);
    if (direction === 0) continue;
    const last = found.at(-1)?.at(-1);
    const goesOn = last !== undefined && Math.sign(last.toMm - last.fromMm) === direction && direction * (piece.fromMm - last.toMm) >= 0;
    if (goesOn) found.at(-1)?.push(piece);
    else found.push([piece]);
  }
  return found;
}
