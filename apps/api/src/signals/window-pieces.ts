import type { Interval } from '#libs/intervals';
import { BLOCK_SAMPLES, spanOf } from '#libs/signals';
import type { StretchWindows } from './window-cells.js';

/** Pipe of a window of which samples are read. */
export interface Piece extends Interval {
  /** The number of the window. */
  readonly window: number;
}

/** Summaries are as long as this on average; where samples stand further apart they are longer. */
const CELLS_AT_AN_END = 3;

/** The windows that a stretch reaches into, whole, by footage. */
export function piecesOn({ first, way, lows }: Pick<StretchWindows, 'first' | 'way' | 'lows'>, windows: readonly Interval[]): Piece[] {
  const from = way === 1 ? first : first - lows.length + 1;
  return windows.slice(from, from + lows.length).map(({ fromMm, toMm }, nth) => ({ fromMm, toMm, window: from + nth }));
}

/** The pieces of windows beside an end of their reach, where a summary over that end counts in none; by footage, none overlapping. */
export function endPieces(stretch: StretchWindows, windows: readonly Interval[], reaches: readonly Interval[]): Piece[] {
  const endMm = Math.ceil((CELLS_AT_AN_END * stretch.blockMm * spanOf(stretch.level ?? 1)) / BLOCK_SAMPLES);
  return piecesOn(stretch, windows).flatMap(({ fromMm, toMm, window }): Piece[] => {
    const reach = reaches[window] as Interval;
    const [low, high] = [Math.min(toMm, reach.fromMm + endMm), Math.max(fromMm, reach.toMm - endMm)];
    if (low >= high) return [{ fromMm, toMm, window }];
    return [...(fromMm < low ? [{ fromMm, toMm: low, window }] : []), ...(high < toMm ? [{ fromMm: high, toMm, window }] : [])];
  });
}
