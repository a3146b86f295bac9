import type { Interval } from '#libs/intervals';
import { BLOCK_LEVEL, cellsInBlock, spanOf, type CellRow, type CellRun, type SummaryTable } from '#libs/signals';
import { blocksBetween, firstWhere, reachOf } from './block-span.js';
import type { ChannelDirectory } from './channel-directory.js';
import { joinedRuns } from './kept-cells.js';
import { positionEdge, type Stretch } from './stretch.js';

/** Windows take cells that are at most an eighth of them, so that what is lost at their two ends is little. */
const CELLS_IN_WINDOW = 8;
/** With fewer samples than these not even two whole cells of the finest level are sure to lie in a window. */
const LEAST_SAMPLES = 3 * spanOf(1);

/** The windows that a stretch reaches into, in the order of its positions. */
export interface StretchWindows {
  readonly stretch: Stretch;
  /** Positions from `lows` up to, and without, `highs`; both rise. */
  readonly lows: Float64Array;
  readonly highs: Float64Array;
  /** The number of the window with the least positions, and +1 or −1 to that of the next one. */
  readonly first: number;
  readonly way: 1 | -1;
  /** The level whose cells the windows are long enough for; null where only samples tell. */
  readonly level: number | null;
  /** Pipe of a block, on average. */
  readonly blockMm: number;
}

/** @param windows in rising footage, none overlapping. Null where the stretch reaches into none of them. */
export function windowsOn(directory: ChannelDirectory, stretch: Stretch, windows: readonly Interval[]): StretchWindows | null {
  const { fromMm, toMm } = reachOf(directory, stretch);
  const from = firstWhere(0, windows.length, (index) => (windows[index] as Interval).toMm > fromMm);
  const to = firstWhere(0, windows.length, (index) => (windows[index] as Interval).fromMm > toMm);
  if (from >= to) return null;
  const own = windows.slice(from, to);
  const [starts, ends] = [own.map((window) => positionEdge(stretch, window.fromMm)), own.map((window) => positionEdge(stretch, window.toMm))];
  const level = levelFor(samplesPerMm(directory, stretch, toMm - fromMm) * own.reduce((least, window) => Math.min(least, window.toMm - window.fromMm), Infinity));
  const blockMm = (toMm - fromMm) / (stretch.toBlock - stretch.fromBlock);
  if (stretch.footageRises) return { stretch, lows: Float64Array.from(starts), highs: Float64Array.from(ends), first: from, way: 1, level, blockMm };
  return { stretch, lows: Float64Array.from(ends).reverse(), highs: Float64Array.from(starts).reverse(), first: to - 1, way: -1, level, blockMm };
}

function samplesPerMm(directory: ChannelDirectory, { fromBlock, toBlock }: Stretch, lengthMm: number): number {
  let samples = 0;
  for (let no = fromBlock; no < toBlock; no += 1) samples += directory.block(no).samples;
  return samples / Math.max(lengthMm, 1);
}

/** The highest level, up to that of blocks, of which a window of so many samples has eight cells; null where it has too few samples for any. */
export function levelFor(samples: number): number | null {
  if (samples < LEAST_SAMPLES) return null;
  let level = 1;
  while (level < BLOCK_LEVEL && spanOf(level + 1) * CELLS_IN_WINDOW <= samples) level += 1;
  return level;
}

/** The cells that can lie in the windows: those of all blocks that reach into one, each once, in rising order. */
export function cellsFor(directory: ChannelDirectory, { stretch, lows, highs }: StretchWindows, level: number): CellRun[] {
  const runs: CellRun[] = [];
  const cells = cellsInBlock(level);
  for (const [low, high] of hulls(lows, highs)) {
    const { fromBlock, toBlock } = blocksBetween(directory, stretch, low, high);
    if (fromBlock < toBlock) runs.push({ level, fromCell: fromBlock * cells, toCell: toBlock * cells });
  }
  return joinedRuns(runs);
}

/** Windows with less than a window between them are read in one go. */
function hulls(lows: Float64Array, highs: Float64Array): (readonly [number, number])[] {
  const found: [number, number][] = [];
  lows.forEach((low, index) => {
    const high = highs[index] as number;
    const last = found.at(-1);
    if (last !== undefined && low - last[1] < high - low) last[1] = high;
    else found.push([low, high]);
  });
  return found;
}

/**
 * Puts each cell that lies wholly in a window to what that window comes to. One that reaches over an end of a window counts in none:
 * no sample counts twice, and none of pipe beside the window does.
 */
export function addCells(rows: readonly CellRow[], { lows, highs, first, way }: StretchWindows, into: SummaryTable, met: (window: number) => void): void {
  let nth = 0;
  for (const { table, from, to } of rows) {
    for (let at = from; at < to; at += 1) {
      if (!table.hasSamples(at)) continue;
      const position = table.fromPosition(at);
      nth = windowAt(lows, position, nth);
      if (nth < 0) {
        nth = 0;
        continue;
      }
      if (position < (lows[nth] as number) || table.toPosition(at) >= (highs[nth] as number)) continue;
      const window = first + way * nth;
      into.merge(window, table, at);
      met(window);
    }
  }
}

/** The last window that begins at a position or below it, −1 where none does; at its quickest near the one that was found last. */
export function windowAt(lows: ArrayLike<number>, position: number, hint: number): number {
  const isAt = (nth: number): boolean => (lows[nth] as number) <= position && (nth + 1 >= lows.length || (lows[nth + 1] as number) > position);
  if (isAt(hint)) return hint;
  if (hint + 1 < lows.length && isAt(hint + 1)) return hint + 1;
  return firstWhere(0, lows.length, (nth) => (lows[nth] as number) > position) - 1;
}
