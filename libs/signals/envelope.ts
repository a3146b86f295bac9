import { BLOCK_SAMPLES, type Samples } from './sample.js';
import { spanOf } from './pyramid.js';
import { merge, summarise, type Summary } from './summary.js';
import type { CellAt } from './view-plan.js';

/** A cell with what it comes to. */
export interface Cell extends CellAt {
  readonly summary: Summary;
}

/** Samples read for a view, and the address of the first. */
export interface RawSamples {
  readonly firstAddress: number;
  readonly samples: Samples;
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

/** The cells that can be drawn as they are, and those that must be read finer. What lies outside all columns is in neither. */
export interface Sifted {
  readonly fine: Cell[];
  readonly coarse: Cell[];
}

/**
 * A cell is too coarse when it reaches past the first or the last edge, whose interval must be exact, or over more than
 * two columns: those between its ends may be empty, and a gap must show.
 */
export function sift(cells: Iterable<Cell>, edges: Float64Array): Sifted {
  const sifted: Sifted = { fine: [], coarse: [] };
  for (const cell of cells) {
    const { first, last } = reachOf(edges, cell.summary);
    if (last < 0 || first >= edges.length - 1) continue;
    (sharpnessOf(edges, first, last) === 'coarse' ? sifted.coarse : sifted.fine).push(cell);
  }
  return sifted;
}

const reachOf = (edges: Float64Array, { fromPosition, toPosition }: Summary): { first: number; last: number } =>
  ({ first: columnOf(edges, fromPosition), last: columnOf(edges, toPosition) });

const sharpnessOf = (edges: Float64Array, first: number, last: number): Sharpness =>
  first < 0 || last >= edges.length - 1 || last - first > 1 ? 'coarse' : last > first ? 'shared' : 'exact';

/** A summary and the columns that it counts in. */
interface Piece {
  readonly address: number;
  readonly first: number;
  readonly last: number;
  readonly sharpness: Sharpness;
  readonly summary: Summary;
}

const BLUNTER: readonly Sharpness[] = ['exact', 'shared', 'coarse'];
const blunter = (one: Sharpness, other: Sharpness): Sharpness => (BLUNTER.indexOf(one) < BLUNTER.indexOf(other) ? other : one);

/**
 * The columns from cells and samples, no address being in two of them. Samples are told apart one by one; a cell counts in
 * every column that it touches. A cell that `sift` calls coarse can be drawn too: so are its columns then.
 */
export function drawColumns(edges: Float64Array, cells: Iterable<Cell>, raw: Iterable<RawSamples>): Column[] {
  const pieces: Piece[] = [];
  for (const one of raw) piecesOfSamples(edges, one, pieces);
  for (const cell of cells) pieces.push(pieceOfCell(edges, cell));
  // In the order in which they were read, so that first and last are, and of equal extremes the first is named.
  pieces.sort((a, b) => a.address - b.address);
  const width = edges.length - 1;
  const summaries = new Array<Summary | null>(width).fill(null);
  const sharpness = new Array<Sharpness>(width).fill('exact');
  for (const piece of pieces) {
    for (let column = Math.max(piece.first, 0); column <= Math.min(piece.last, width - 1); column += 1) {
      const before = summaries[column] ?? null;
      summaries[column] = before === null ? piece.summary : merge(before, piece.summary);
      sharpness[column] = blunter(sharpness[column] ?? 'exact', piece.sharpness);
    }
  }
  return summaries.map((summary, column) => ({ summary, sharpness: sharpness[column] ?? 'exact' }));
}

function pieceOfCell(edges: Float64Array, { level, cellNo, summary }: Cell): Piece {
  const { first, last } = reachOf(edges, summary);
  return { address: cellNo * spanOf(level), first, last, sharpness: sharpnessOf(edges, first, last), summary };
}

/** Runs of samples that lie in one column. */
function piecesOfSamples(edges: Float64Array, { firstAddress, samples }: RawSamples, pieces: Piece[]): void {
  const { positions } = samples;
  const width = edges.length - 1;
  for (let from = 0; from < positions.length;) {
    const column = columnOf(edges, positions[from] as number);
    const [low, high] = [column < 0 ? -Infinity : (edges[column] as number), column >= width ? Infinity : (edges[column + 1] as number)];
    let to = from + 1;
    while (to < positions.length && (positions[to] as number) >= low && (positions[to] as number) < high) to += 1;
    if (column >= 0 && column < width) {
      pieces.push({ address: firstAddress + from, first: column, last: column, sharpness: 'exact', summary: summarise(samples, from, to, firstAddress) });
    }
    from = to;
  }
}

/** The address of the first sample of a part of a block. */
export const addressOf = (blockNo: number, index: number): number => blockNo * BLOCK_SAMPLES + index;
