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
  /** A cell counts in a window that it meets when it lies wholly between these: the window itself, or more pipe around it. */
  readonly reachLows: Float64Array;
  readonly reachHighs: Float64Array;
  /** The number of the window with the least positions, and +1 or −1 to that of the next one. */
  readonly first: number;
  readonly way: 1 | -1;
  /** The level whose cells the windows are long enough for; null where only samples tell. */
  readonly level: number | null;
  /** Pipe of a block, on average. */
  readonly blockMm: number;
}

/**
 * @param windows in rising footage, none overlapping
 * @param reaches of each window, as far as its cells may reach
 * Null where the stretch reaches into none of them.
 */
export function windowsOn(directory: ChannelDirectory, stretch: Stretch, windows: readonly Interval[], reaches: readonly Interval[] = windows): StretchWindows | null {
  const { fromMm, toMm } = reachOf(directory, stretch);
  const from = firstWhere(0, windows.length, (index) => (windows[index] as Interval).toMm > fromMm);
  const to = firstWhere(0, windows.length, (index) => (windows[index] as Interval).fromMm > toMm);
  if (from >= to) return null;
  const own = windows.slice(from, to);
  const edges = (places: readonly Interval[]): Pick<StretchWindows, 'lows' | 'highs'> => {
    const [starts, ends] = [places.map((place) => positionEdge(stretch, place.fromMm)), places.map((place) => positionEdge(stretch, place.toMm))];
    return stretch.footageRises ? { lows: Float64Array.from(starts), highs: Float64Array.from(ends) } : { lows: Float64Array.from(ends).reverse(), highs: Float64Array.from(starts).reverse() };
  };
  const reach = edges(reaches.slice(from, to));
  const level = levelFor(samplesPerMm(directory, stretch, toMm - fromMm) * own.reduce((least, window) => Math.min(least, window.toMm - window.fromMm), Infinity));
  const blockMm = (toMm - fromMm) / (stretch.toBlock - stretch.fromBlock);
  return { stretch, ...edges(own), reachLows: reach.lows, reachHighs: reach.highs, first: stretch.footageRises ? from : to - 1, way: stretch.footageRises ? 1 : -1, level, blockMm };
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
 * Puts each cell to what the windows come to that it meets, and whose reach it lies in wholly. Where windows reach no further than
 * themselves, no sample counts twice, and none of pipe beside the window does.
 */
export function addCells(rows: readonly CellRow[], { lows, highs, reachLows, reachHighs, first, way }: StretchWindows, into: SummaryTable, met: (window: number) => void): void {
  let hint = 0;
  for (const { table, from, to } of rows) {
    for (let at = from; at < to; at += 1) {
      if (!table.hasSamples(at)) continue;
      const [low, high] = [table.fromPosition(at), table.toPosition(at)];
      hint = Math.max(windowAt(lows, low, hint), 0);
      for (let nth = hint; nth < lows.length && (lows[nth] as number) <= high; nth += 1) {
        if ((highs[nth] as number) <= low || low < (reachLows[nth] as number) || high >= (reachHighs[nth] as number)) continue;
        into.merge(first + way * nth, table, at);
        met(first + way * nth);
      }
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
