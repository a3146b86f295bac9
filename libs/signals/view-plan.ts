import { BLOCK_SAMPLES } from './sample.js';
import { BLOCK_LEVEL, CELL_SAMPLES, CELLS_IN_BLOCK, FAN_OUT, spanOf } from './pyramid.js';

/** Cells of one level, from `fromCell` up to, and without, `toCell`. */
export interface CellRun {
  readonly level: number;
  readonly fromCell: number;
  readonly toCell: number;
}

/** Samples of one block, from index `from` up to, and without, `to`, as far as the block has them. */
export interface RawPart {
  readonly blockNo: number;
  readonly from: number;
  readonly to: number;
}

/** What to read for a view; no address is in it twice. */
export interface Fetch {
  readonly cells: readonly CellRun[];
  readonly raw: readonly RawPart[];
}

/** Consecutive blocks from `fromBlock` up to, and without, `toBlock`: those whose positions meet the interval, and any between. */
export interface BlockRun {
  readonly fromBlock: number;
  readonly toBlock: number;
}

/** A view of a width asks for at most so many cells for each pixel; the ends come on top. */
export const CELLS_PER_PIXEL = 4;
/** An unpacked block costs about as much as so many cells. */
const PIXELS_PER_RAW_BLOCK = 16;

const wholeBlock = (blockNo: number): RawPart => ({ blockNo, from: 0, to: BLOCK_SAMPLES });

/**
 * What to read for a view in `widthPx` columns of these runs of blocks, of which each goes on along the pipe where the one before
 * ends. Few blocks are read themselves. Of more, the first and the last are, since the interval ends in them, and what lies between
 * comes from the finest level that has at most four cells a column, with finer cells only where its own do not fit. However much is
 * stored: at most `widthPx` / 16, or two, raw blocks, and at most 4 `widthPx` cells and, for each run, six for each level above the
 * blocks' or a cell a block. Cells of blocks before the last alone are asked for: a cell can be written once, when all blocks
 * under it are there, and never again.
 * Throws RangeError when the width is no whole number above 0 or a run of blocks is none; empty runs read nothing.
 */
export function planView(runs: readonly BlockRun[], widthPx: number): Fetch {
  if (!Number.isInteger(widthPx) || widthPx < 1) throw new RangeError(`widthPx is not a whole number above 0: ${widthPx}`);
  for (const { fromBlock, toBlock } of runs) {
    if (!Number.isSafeInteger(fromBlock) || !Number.isSafeInteger(toBlock) || fromBlock < 0 || toBlock < fromBlock) throw new RangeError(`there are no blocks from ${fromBlock} to ${toBlock}`);
  }
  const all = runs.filter(({ fromBlock, toBlock }) => fromBlock < toBlock);
  if (lengthOf(all) <= Math.max(2, Math.floor(widthPx / PIXELS_PER_RAW_BLOCK))) {
    return { cells: [], raw: all.flatMap(({ fromBlock, toBlock }) => Array.from({ length: toBlock - fromBlock }, (_, index) => wholeBlock(fromBlock + index))) };
  }
  const [first, last] = [all[0] as BlockRun, all.at(-1) as BlockRun];
  const between = all.map((run) => ({ fromBlock: run.fromBlock + (run === first ? 1 : 0), toBlock: run.toBlock - (run === last ? 1 : 0) }));
  return { cells: cellsOf(between, widthPx * CELLS_PER_PIXEL), raw: [wholeBlock(first.fromBlock), wholeBlock(last.toBlock - 1)] };
}

const lengthOf = (runs: readonly BlockRun[]): number => runs.reduce((sum, { fromBlock, toBlock }) => sum + toBlock - fromBlock, 0);

/** Whole blocks by at most `most` cells, and of each run six for each level above the blocks', or a cell a block. */
function cellsOf(runs: readonly BlockRun[], most: number): CellRun[] {
  const addresses = lengthOf(runs) * BLOCK_SAMPLES;
  let level = 1;
  while (addresses / spanOf(level) > most) level += 1;
  return runs.filter(({ fromBlock, toBlock }) => fromBlock < toBlock).flatMap(({ fromBlock, toBlock }) => {
    if (level > BLOCK_LEVEL) return ladder(fromBlock, toBlock, level);
    const cells = BLOCK_SAMPLES / spanOf(level);
    return [{ level, fromCell: fromBlock * cells, toCell: toBlock * cells }];
  });
}

/** Blocks as whole cells of `top` and, at both ends where these do not fit, of the levels below it, in the order of addresses. */
function ladder(fromBlock: number, toBlock: number, top: number): CellRun[] {
  const [rising, falling]: [CellRun[], CellRun[]] = [[], []];
  let [from, to] = [fromBlock, toBlock];
  let level = BLOCK_LEVEL;
  for (; level < top; level += 1) {
    const [up, down] = [Math.ceil(from / FAN_OUT), Math.floor(to / FAN_OUT)];
    // Nothing of the next level fits between the ends.
    if (up >= down) break;
    if (up * FAN_OUT > from) rising.push({ level, fromCell: from, toCell: up * FAN_OUT });
    if (down * FAN_OUT < to) falling.unshift({ level, fromCell: down * FAN_OUT, toCell: to });
    [from, to] = [up, down];
  }
  return [...rising, { level, fromCell: from, toCell: to }, ...falling];
}

/** A cell that is too coarse for the columns, by its level and number. */
export interface CellAt {
  readonly level: number;
  readonly cellNo: number;
}

/** What lies under these cells: the cells one level down, and under those of level 1 the samples. */
export function planFiner(cells: readonly CellAt[]): Fetch {
  const below: CellRun[] = [];
  const raw: RawPart[] = [];
  for (const { level, cellNo } of cells) {
    if (level > 1) below.push({ level: level - 1, fromCell: cellNo * FAN_OUT, toCell: (cellNo + 1) * FAN_OUT });
    else {
      const from = (cellNo % CELLS_IN_BLOCK) * CELL_SAMPLES;
      raw.push({ blockNo: Math.floor(cellNo / CELLS_IN_BLOCK), from, to: from + CELL_SAMPLES });
    }
  }
  return { cells: below, raw };
}

/** What reading it costs: one for a cell, sixteen for a block of which samples are wanted. */
export const costOf = ({ cells, raw }: Fetch): number =>
  cells.reduce((sum, { fromCell, toCell }) => sum + toCell - fromCell, 0) + new Set(raw.map(({ blockNo }) => blockNo)).size * PIXELS_PER_RAW_BLOCK;
