import {
  BLOCK_SAMPLES, bitsOf, cellsOfBlock, CELLS_IN_BLOCK, costOf, envelopeView, NO_VALUE_BITS, parentsOf, part, SummaryTable, type BlockRun, type CellRow, type Column, type Fetch,
  type Fetched, type RawSamples, type Samples, type Summary,
} from '#libs/signals';
import { emptySamples, type Random } from '../fixtures/signals.js';
import type { PlainSample } from './signals.reference.js';

/** What happens along the channel: how often, for a sample, a gap, a stop or a reversal begins. */
export interface Course {
  readonly gaps: number;
  readonly stops: number;
  readonly reversals: number;
}

/** Samples a millimetre apart, but for gaps of up to 50 m, stops and reversals of up to 3 m; with all statuses and values that are no numbers. */
export function channelOf(random: Random, blocks: number, { gaps, stops, reversals }: Course): Samples[] {
  const upTo = (most: number): number => (random() * most) | 0;
  let [position, standing, back, run, status] = [upTo(1_000_000) - 500_000, 0, 0, 0, 0];
  let level = 5;
  const block = (): Samples => {
    const samples = emptySamples(random() < 0.1 ? 1 + upTo(BLOCK_SAMPLES) : BLOCK_SAMPLES);
    for (let index = 0; index < samples.values.length; index += 1) {
      if (standing > 0) standing -= 1;
      else if (back > 0) {
        back -= 1;
        position -= 1;
      } else position += 1;
      if (random() < gaps) position += 1 + upTo(10 ** (1 + upTo(5)) / 2);
      if (random() < stops) standing = upTo(3_000);
      if (random() < reversals) back = upTo(3_000);
      if (run <= 0 && random() < 0.001) [run, status] = [1 + upTo(600), 1 + upTo(5)];
      run -= 1;
      level += (random() - 0.5) * 0.01;
      samples.positions[index] = position;
      samples.values[index] = level + random() * 0.05;
      samples.statuses[index] = run >= 0 ? status : 0;
      if (run >= 0 && status === 1) bitsOf(samples.values)[index] = NO_VALUE_BITS;
      if (random() < 0.0005) samples.values[index] = [NaN, Infinity, -Infinity, 0][upTo(4)] ?? 0;
    }
    return samples;
  };
  return Array.from({ length: blocks }, block);
}

export const plainOf = (blocks: readonly Samples[]): PlainSample[] => blocks.flatMap(({ values, positions, statuses }, blockNo) =>
  Array.from(values, (value, index) => ({ address: blockNo * BLOCK_SAMPLES + index, position: positions[index] ?? NaN, value, status: statuses[index] ?? NaN })));

/** All levels, level 1 first, each as long as all below it is there: a cell is made once, when its four children are, and never again. */
export function pyramidOf(blocks: readonly Samples[]): (Summary | null)[][] {
  const levels = [blocks.flatMap((samples, blockNo) => cellsOfBlock(samples, blockNo))];
  for (let below = levels[0] ?? []; below.length >= 4; below = levels.at(-1) ?? []) levels.push(parentsOf(below.slice(0, below.length - (below.length % 4)), 0));
  return levels;
}

/** The blocks whose positions meet the interval, and those between. */
export function blocksAt(levels: readonly (readonly (Summary | null)[])[], blocks: number, from: number, to: number): BlockRun {
  const meets = (blockNo: number): boolean => (levels[0] ?? []).slice(blockNo * CELLS_IN_BLOCK, (blockNo + 1) * CELLS_IN_BLOCK)
    .some((cell) => cell !== null && cell.toPosition >= from && cell.fromPosition < to);
  const met = Array.from({ length: blocks }, (_, blockNo) => blockNo).filter(meets);
  return { fromBlock: met[0] ?? 0, toBlock: (met.at(-1) ?? -1) + 1 };
}

/** Where cells and blocks come from. A cell of null has no samples; asking for one that was never made throws. */
export interface Store {
  readonly cell: (level: number, cellNo: number) => Summary | null;
  readonly block: (blockNo: number) => Samples;
}

export const storeOf = (blocks: readonly Samples[], levels: readonly (readonly (Summary | null)[])[]): Store => ({
  cell(level, cellNo) {
    const cell = levels[level - 1]?.[cellNo];
    if (cell === undefined) throw new Error(`cell ${cellNo} of level ${level} was never made`);
    return cell;
  },
  block(blockNo) {
    const block = blocks[blockNo];
    if (block === undefined) throw new Error(`there is no block ${blockNo}`);
    return block;
  },
});

function found({ cells, raw }: Fetch, store: Store): Fetched {
  const rows = cells.map(({ level, fromCell, toCell }): CellRow => {
    const table = SummaryTable.of(Array.from({ length: toCell - fromCell }, (_, index) => store.cell(level, fromCell + index)));
    return { level, firstCellNo: fromCell, table, from: 0, to: toCell - fromCell };
  });
  const parts = raw.map(({ blockNo, from, to }): RawSamples => ({ firstAddress: blockNo * BLOCK_SAMPLES + from, samples: () => part(store.block(blockNo), from, to) }));
  return { cells: rows, raw: parts };
}

export interface View {
  readonly columns: Column[];
  /** What was read in each step. */
  readonly fetches: readonly Fetch[];
  readonly cost: number;
}

/** A whole view, as a program would ask for it. */
export const view = (run: BlockRun, edges: Float64Array, store: Store): View => viewOfRuns([run], edges, store);

/** The same of runs that follow one another along the pipe. */
export function viewOfRuns(runs: readonly BlockRun[], edges: Float64Array, store: Store): View {
  const asking = envelopeView(runs, edges);
  const fetches: Fetch[] = [];
  let step = asking.next();
  while (step.done !== true) {
    fetches.push(step.value);
    step = asking.next(found(step.value, store));
  }
  return { columns: step.value, fetches, cost: fetches.reduce((sum, fetch) => sum + costOf(fetch), 0) };
}
