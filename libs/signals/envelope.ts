import { BLOCK_SAMPLES, type Samples } from './sample.js';
import { spanOf } from './pyramid.js';
import { summarise, type Summary } from './summary.js';
import { SummaryTable } from './summary-table.js';
import type { CellAt } from './view-plan.js';

/** A cell that has samples, and where in a table its summary is. */
export interface Cell extends CellAt {
  readonly table: SummaryTable;
  readonly at: number;
}

/** Consecutive cells of one level from `firstCellNo` on: those at the places of a table from `from` up to, and without, `to`. Those without samples are none. */
export interface CellRow {
  readonly level: number;
  readonly firstCellNo: number;
  readonly table: SummaryTable;
  readonly from: number;
  readonly to: number;
}

/** Samples read for a view, and the address of the first. */
export interface RawSamples {
  readonly firstAddress: number;
  /** Gives them; their memory may be used again for what is asked for next. */
  readonly samples: () => Samples;
}

/** One pixel column of a view: what is read of the pipe, or of the time, between two edges. */
export interface Column {
  /**
   * Null where nothing lies in the column: a gap. Samples that are all missing, suspect or implausible make a summary
   * without extremes, which is drawn as a gap as well, and can be told why.
   */
  readonly summary: Summary | null;
  readonly sharpness: Sharpness;
}

/**
 * What a column's summary is of.
 * - exact: the samples between its two edges and no others.
 * - shared: those, and the rest of a cell that reaches over one of the edges and counts in full on both sides. No extreme is
 *   hidden, and one may be drawn a column too far; where the column's own samples are all missing (its counts show some), a
 *   neighbour's values may be drawn over them.
 * - coarse: those, and a cell that reaches far over the edges and could not be read finer. No extreme is hidden; whether anything
 *   was read in the column itself is not known.
 */
export type Sharpness = 'exact' | 'shared' | 'coarse';

/**
 * The edges of `widthPx` equally wide columns of positions from `from` up to, and without, `to`; one more than columns.
 * Throws RangeError when the interval is empty or not finite, or the width is no whole number above 0.
 */
export function evenEdges(from: number, to: number, widthPx: number): Float64Array {
  if (!Number.isFinite(from) || !Number.isFinite(to) || from >= to) throw new RangeError(`there is nothing from ${from} to ${to}`);
  if (!Number.isInteger(widthPx) || widthPx < 1) throw new RangeError(`widthPx is not a whole number above 0: ${widthPx}`);
  return Float64Array.from({ length: widthPx + 1 }, (_, edge) => (edge === widthPx ? to : from + ((to - from) * edge) / widthPx));
}

/** The column of a position: column c reaches from edge c up to, and without, edge c + 1. −1 before all, the width past all. */
export function columnOf(edges: Float64Array, position: number): number {
  let [low, high] = [0, edges.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((edges[middle] as number) <= position) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** As `columnOf`, at its quickest for positions of which each is in the column of the one before or the next. */
function columnFinder(edges: Float64Array): (position: number) => number {
  let last = 0;
  const isIn = (column: number, position: number): boolean => (edges[column] as number) <= position && position < (edges[column + 1] as number);
  return (position) => {
    if (!isIn(last, position)) last = isIn(last + 1, position) ? last + 1 : columnOf(edges, position);
    return last;
  };
}

/** The cells that can be drawn as they are, and those that must be read finer. What lies outside all columns is in neither. */
export interface Sifted {
  readonly fine: Cell[];
  readonly coarse: Cell[];
}

/**
 * A cell is too coarse when it reaches past the first or the last edge, whose interval must be exact, or over more than
 * two columns: those between its ends may be empty, and a gap must show.
 */
export function sift(rows: Iterable<CellRow>, edges: Float64Array): Sifted {
  const sifted: Sifted = { fine: [], coarse: [] };
  const reachOf = reachFinder(edges);
  for (const { level, firstCellNo, table, from, to } of rows) {
    for (let at = from; at < to; at += 1) {
      if (!table.hasSamples(at)) continue;
      const { first, last } = reachOf(table, at);
      if (last < 0 || first >= edges.length - 1) continue;
      (sharpnessOf(edges, first, last) === 'coarse' ? sifted.coarse : sifted.fine).push({ level, cellNo: firstCellNo + at - from, table, at });
    }
  }
  return sifted;
}

/** The columns of the least and of the greatest position of a summary. */
function reachFinder(edges: Float64Array): (table: SummaryTable, at: number) => { readonly first: number; readonly last: number } {
  const [firstOf, lastOf] = [columnFinder(edges), columnFinder(edges)];
  return (table, at) => ({ first: firstOf(table.fromPosition(at)), last: lastOf(table.toPosition(at)) });
}

const sharpnessOf = (edges: Float64Array, first: number, last: number): Sharpness =>
  first < 0 || last >= edges.length - 1 || last - first > 1 ? 'coarse' : last > first ? 'shared' : 'exact';

/** A summary and the columns that it counts in. */
interface Piece {
  readonly address: number;
  readonly first: number;
  readonly last: number;
  readonly sharpness: Sharpness;
  readonly table: SummaryTable;
  readonly at: number;
}

const BLUNTER: readonly Sharpness[] = ['exact', 'shared', 'coarse'];
const blunter = (one: Sharpness, other: Sharpness): Sharpness => (BLUNTER.indexOf(one) < BLUNTER.indexOf(other) ? other : one);

/**
 * The columns from cells and samples, no address being in two of them. Samples are told apart one by one; a cell counts in
 * every column that it touches. A cell that `sift` calls coarse can be drawn too: so are its columns then.
 */
export function drawColumns(edges: Float64Array, cells: Iterable<Cell>, raw: Iterable<RawSamples>): Column[] {
  const pieces = piecesOfSamples(edges, raw).concat(piecesOfCells(edges, cells));
  // In the order in which they were read, so that first and last are, and of equal extremes the first is named.
  pieces.sort((a, b) => a.address - b.address);
  const width = edges.length - 1;
  const summaries = new SummaryTable(width);
  const sharpness = new Array<Sharpness>(width).fill('exact');
  for (const piece of pieces) {
    for (let column = Math.max(piece.first, 0); column <= Math.min(piece.last, width - 1); column += 1) {
      summaries.merge(column, piece.table, piece.at);
      if (piece.sharpness !== 'exact') sharpness[column] = blunter(sharpness[column] ?? 'exact', piece.sharpness);
    }
  }
  return sharpness.map((one, column) => ({ summary: summaries.get(column), sharpness: one }));
}

function piecesOfCells(edges: Float64Array, cells: Iterable<Cell>): Piece[] {
  const reachOf = reachFinder(edges);
  return Array.from(cells, ({ level, cellNo, table, at }) => {
    const { first, last } = reachOf(table, at);
    return { address: cellNo * spanOf(level), first, last, sharpness: sharpnessOf(edges, first, last), table, at };
  });
}

/** Runs of samples that lie in one column. */
function piecesOfSamples(edges: Float64Array, raw: Iterable<RawSamples>): Piece[] {
  const pieces: Piece[] = [];
  const width = edges.length - 1;
  const table = new SummaryTable(width);
  const columnAt = columnFinder(edges);
  for (const { firstAddress, samples: read } of [...raw].sort((a, b) => a.firstAddress - b.firstAddress)) {
    const samples = read();
    const { positions } = samples;
    const rises = neverFalls(positions);
    for (let from = 0; from < positions.length;) {
      const column = columnAt(positions[from] as number);
      const [low, high] = [column < 0 ? -Infinity : (edges[column] as number), column >= width ? Infinity : (edges[column + 1] as number)];
      const to = rises ? firstFrom(positions, high, from + 1) : firstBeside(positions, low, high, from + 1);
      if (column >= 0 && column < width) {
        const at = pieces.length;
        table.put(at, summarise(samples, from, to, firstAddress));
        pieces.push({ address: firstAddress + from, first: column, last: column, sharpness: 'exact', table, at });
      }
      from = to;
    }
  }
  return pieces;
}

function neverFalls(positions: Float64Array): boolean {
  for (let index = 1; index < positions.length; index += 1) if ((positions[index] as number) < (positions[index - 1] as number)) return false;
  return true;
}

/** The first index from `from` on whose position is not below `high`; they never fall. Looked for in strides that double, since it is near. */
function firstFrom(positions: Float64Array, high: number, from: number): number {
  let [low, stride] = [from, 1];
  while (low + stride < positions.length && (positions[low + stride] as number) < high) {
    low += stride;
    stride *= 2;
  }
  let end = Math.min(low + stride, positions.length);
  while (low < end) {
    const middle = (low + end) >>> 1;
    if ((positions[middle] as number) < high) low = middle + 1;
    else end = middle;
  }
  return low;
}

/** The first index from `from` on whose position is below `low`, or not below `high`. */
function firstBeside(positions: Float64Array, low: number, high: number, from: number): number {
  let index = from;
  while (index < positions.length && (positions[index] as number) >= low && (positions[index] as number) < high) index += 1;
  return index;
}

/** The address of the first sample of a part of a block. */
export const addressOf = (blockNo: number, index: number): number => blockNo * BLOCK_SAMPLES + index;
