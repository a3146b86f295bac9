import { drawColumns, sift, type Cell, type Column, type RawSamples } from './envelope.js';
import { CELLS_PER_PIXEL, costOf, planFiner, planView, type BlockRun, type Fetch } from './view-plan.js';

/** Sixty-four blocks: with a few columns, as many more cells as these would be none. */
const ROOM_AT_LEAST = 1_024;

/** What was found of a `Fetch`: its cells that have samples, and its parts of blocks as far as they have. */
export interface Fetched {
  readonly cells: readonly Cell[];
  readonly raw: readonly RawSamples[];
}

/**
 * An envelope step by step: yields what to read, is given what was found, and returns the columns.
 * Where positions rise evenly, one step does. Cells that are too coarse for the columns (a gap of several columns inside them,
 * pipe that moved back over an end) are read finer, level by level, the widest of them first, until that has cost four cells a
 * column, or 1,024 for few columns; those left then are drawn as they are, and their columns are coarse.
 */
export function* envelopeView(blocks: BlockRun, edges: Float64Array): Generator<Fetch, Column[], Fetched> {
  const widthPx = edges.length - 1;
  let fetch = planView(blocks, widthPx);
  let room = Math.max(widthPx * CELLS_PER_PIXEL, ROOM_AT_LEAST);
  const [cells, raw]: [Cell[], RawSamples[]] = [[], []];
  for (;;) {
    const found = yield fetch;
    raw.push(...found.raw);
    const { fine, coarse } = sift(found.cells, edges);
    cells.push(...fine);
    const finer = affordable(coarse, room);
    cells.push(...coarse.slice(finer.length));
    if (finer.length === 0) return drawColumns(edges, cells, raw);
    fetch = planFiner(finer);
    room -= costOf(fetch);
  }
}

/** As many of the cells, the widest first, as can be read finer for `room`; puts the others behind them. */
function affordable(coarse: Cell[], room: number): Cell[] {
  const breadth = ({ summary }: Cell): number => summary.toPosition - summary.fromPosition;
  coarse.sort((a, b) => breadth(b) - breadth(a));
  let [low, high] = [0, coarse.length];
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if (costOf(planFiner(coarse.slice(0, middle))) <= room) low = middle;
    else high = middle - 1;
  }
  return coarse.slice(0, low);
}
