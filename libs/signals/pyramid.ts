import { BLOCK_SAMPLES, type Readings, type Samples } from './sample.js';
import { mergeAll, reachOf, summariseReadings, type Reach, type Summary } from './summary.js';

/*
 * The pyramid of a channel. Level 0 are the samples. A cell of level 1 is the summary of 256 addresses, a sixteenth of a block,
 * and a cell of each higher level that of four cells below it: level 3 is a block, level 4 four blocks, and so on. Cell c of a
 * level stands for the addresses from c × span up to (c + 1) × span; where none of them has a sample there is no cell (null).
 */

/** Addresses under a cell of level 1. */
export const CELL_SAMPLES = 256;
/** Cells under a cell of the next level. */
export const FAN_OUT = 4;
/** The level of which a cell is a block. */
export const BLOCK_LEVEL = 3;
export const CELLS_IN_BLOCK = BLOCK_SAMPLES / CELL_SAMPLES;

/** How many cells of a level, up to that of blocks, a block has. */
export const cellsInBlock = (level: number): number => FAN_OUT ** (BLOCK_LEVEL - level);

/** How many addresses a cell of a level stands for. */
export const spanOf = (level: number): number => CELL_SAMPLES * FAN_OUT ** (level - 1);

/** The sixteen cells of level 1 of a block. */
export const cellsOfBlock = (samples: Samples, blockNo: number): (Summary | null)[] =>
  cellsOfReadings(samples, blockNo, reachesOfCells(samples.positions));

/** Where each of the cells of a block lies that has samples; of up to 4,096 positions. */
export const reachesOfCells = (positions: Float64Array): Reach[] =>
  Array.from({ length: Math.ceil(positions.length / CELL_SAMPLES) }, (_, cell) => reachOf(positions, cell * CELL_SAMPLES, Math.min((cell + 1) * CELL_SAMPLES, positions.length)));

/** As `cellsOfBlock`, of readings whose cells lie where those of other channels lie. */
export const cellsOfReadings = (readings: Readings, blockNo: number, reaches: readonly Reach[]): (Summary | null)[] =>
  Array.from({ length: CELLS_IN_BLOCK }, (_, cell) => {
    const reach = reaches[cell];
    const from = cell * CELL_SAMPLES;
    return reach === undefined ? null : summariseReadings(readings, from, Math.min(from + CELL_SAMPLES, readings.values.length), blockNo * BLOCK_SAMPLES, reach);
  });

/**
 * The cells one level up of consecutive cells, of which the first has a number that is a multiple of four (RangeError otherwise).
 * Where the last parent lacks children it is the summary of those that are there.
 */
export function parentsOf(cells: readonly (Summary | null)[], firstCellNo: number): (Summary | null)[] {
  if (firstCellNo % FAN_OUT !== 0) throw new RangeError(`cell ${firstCellNo} is not the first under its parent`);
  return Array.from({ length: Math.ceil(cells.length / FAN_OUT) }, (_, parent) => mergeAll(cells.slice(parent * FAN_OUT, (parent + 1) * FAN_OUT)));
}
