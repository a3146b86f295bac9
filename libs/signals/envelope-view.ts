import { drawColumns, sift, type Cell, type CellRow, type Column, type RawSamples } from './envelope.js';
import { CELLS_PER_PIXEL, costOf, planFiner, planView, type BlockRun, type Fetch } from './view-plan.js';

/** Sixty-four blocks: with a few columns, as many more cells as these would be none. */
const ROOM_AT_LEAST = 1_024;

/** What was found of a `Fetch`: its cells, and its parts of blocks as far as they have samples. */
export interface Fetched {
  readonly cells: readonly CellRow[];
  readonly raw: readonly RawSamples[];
}

/**
 * An envelope of runs of blocks, which follow one another along the positions, step by step: yields what to read, is given what was found, and returns the columns.
 * Where positions rise evenly, one step does. Cells that are too coarse for the columns (a gap of several columns inside them,
 * pipe that moved back over an end) are read finer, level by level, the widest of them first, until that has cost four cells a
 * column, or 1,024 for few columns; those left then are drawn as they are, and their columns are coarse.
 */
export function* envelopeView(runs: readonly BlockRun[], edges: Float64Array): Generator<Fetch, Column[], Fetched> {
  const widthPx = edges.length - 1;
  let fetch = planView(runs, widthPx);
  let room = Math.max(widthPx * CELLS_PER_PIXEL, ROOM_AT_LEAST);
  const [cells, raw]: [Cell[], RawSamples[]] = [[], []];
  for (;;) {
    const found = yield fetch;
    for (const one of found.raw) raw.push(one);
    const { fine, coarse } = sift(found.cells, edges);
    for (const cell of fine) cells.push(cell);
    const finer = affordable(coarse, room);
    for (const cell of coarse.slice(finer.length)) cells.push(cell);
    if (finer.length === 0) return drawColumns(edges, cells, raw);
    fetch = planFiner(finer);
    room -= costOf(fetch);
  }
}

/** As many of the cells, the widest first, as can be read finer for `room`; puts the others behind them. */
function affordable(coarse: Cell[], room: number): Cell[] {
  const breadth = ({ table, at }: Cell): number => table.toPosition(at) - table.fromPosition(at);
  coarse.sort((a, b) => breadth(b) - breadth(a));
  let [low, high] = [0, coarse.length];
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if (costOf(planFiner(coarse.slice(0, middle))) <= room) low = middle;
    else high = middle - 1;
  }
  return coarse.slice(0, low);
}
