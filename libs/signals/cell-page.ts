import { ByteReader, ByteWriter } from './bytes.js';
import { CHECK_BYTES, HEAD_BYTES, openSeal, seal, writeHead } from './seal.js';
import { STATUS_NAMES } from './sample.js';
import { spanOf } from './pyramid.js';
import type { Summary } from './summary.js';
import { FIRST, FROM, GREATEST, GREATEST_AT, LAST, LEAST, LEAST_AT, MEAN, N, NOWHERE, SQUARES, SummaryTable, TO } from './summary-table.js';

/*
 * Consecutive cells of one level as bytes, so that a view reads few rows: the head (`seal.ts`; the level as its flags, the number of
 * cells as its count), the number of the first cell, then the cells, and the checksum. A cell is one byte saying what is in it, its
 * counts, positions relative to the cell before, and its figures; about 40 bytes.
 */

/** At most so many cells make a page. */
export const PAGE_CELLS = 1_024;

const LETTERS = 'SP';
const EMPTY = 0;
const SAMPLES = 1;
const WITH_EXTREMES = 2;
const WITH_MEAN = 4;
const CELL_BYTES = 160;

export interface CellPage {
  readonly level: number;
  readonly firstCellNo: number;
  /** Null where there are no samples. */
  readonly cells: readonly (Summary | null)[];
}

/** Consecutive cells of any number as pages, none with more cells than it may have. */
export const paged = (level: number, firstCellNo: number, cells: readonly (Summary | null)[]): CellPage[] =>
  Array.from({ length: Math.ceil(cells.length / PAGE_CELLS) }, (_, page) =>
    ({ level, firstCellNo: firstCellNo + page * PAGE_CELLS, cells: cells.slice(page * PAGE_CELLS, (page + 1) * PAGE_CELLS) }));

/** Pages are written one at a time. */
const WRITER = new ByteWriter(HEAD_BYTES + 8 + PAGE_CELLS * CELL_BYTES + CHECK_BYTES);

/** Throws RangeError when there are no cells, or too many, or the level is none. */
export const encodePage = (page: CellPage): Uint8Array => sealPage(encodeCells(page), page.firstCellNo);

/** The cells of a page as bytes, which say nothing of their numbers: cells are packed before it is known where they come to be. */
export interface EncodedCells {
  readonly level: number;
  readonly count: number;
  readonly bytes: Uint8Array;
}

/** Throws RangeError when there are no cells, or too many, or the level is none. */
export function encodeCells({ level, firstCellNo, cells }: CellPage): EncodedCells {
  if (cells.length < 1 || cells.length > PAGE_CELLS) throw new RangeError(`a page has 1 to ${PAGE_CELLS} cells, not ${cells.length}`);
  if (!Number.isInteger(level) || level < 1 || level > 20) throw new RangeError(`there is no level ${level}`);
  const writer = WRITER.restart();
  let last = 0;
  for (const [index, cell] of cells.entries()) {
    if (cell === null) writer.byte(EMPTY);
    else writeCell(writer, cell, (firstCellNo + index) * spanOf(level), last);
    last = cell?.lastPosition ?? last;
  }
  return { level, count: cells.length, bytes: writer.written() };
}

/** The page of these cells, of which the first gets the number `firstCellNo`. Throws RangeError when that is none. */
export function sealPage({ level, count, bytes }: EncodedCells, firstCellNo: number): Uint8Array {
  if (!Number.isSafeInteger(firstCellNo) || firstCellNo < 0) throw new RangeError(`there is no cell ${firstCellNo}`);
  const writer = WRITER.restart();
  writeHead(writer, LETTERS, level, count);
  writer.count(firstCellNo);
  writer.append(bytes);
  return seal(writer);
}

/** The cells of a page in a table, the first at 0. */
export interface PageTable {
  readonly level: number;
  readonly firstCellNo: number;
  readonly count: number;
  readonly table: SummaryTable;
}

/** @throws BlockError when the bytes are not, in full and undamaged, what `encodePage` made */
export function decodePage(bytes: Uint8Array): CellPage {
  const { level, firstCellNo, count, table } = decodeCells(bytes);
  return { level, firstCellNo, cells: Array.from({ length: count }, (_, at) => table.get(at)) };
}

/** As `decodePage`, without an object for each cell. */
export function decodeCells(bytes: Uint8Array): PageTable {
  const { flags: level, count } = openSeal(bytes, LETTERS);
  const reader = new ByteReader(bytes, HEAD_BYTES, bytes.length - CHECK_BYTES);
  const firstCellNo = reader.count();
  return { level, firstCellNo, count, table: readCells(reader, level, count, firstCellNo) };
}

/** The cells that `encodeCells` packed, with addresses as of cells of which the first has the number `firstCellNo`. */
export function openCells({ level, count, bytes }: EncodedCells, firstCellNo: number): (Summary | null)[] {
  const table = readCells(new ByteReader(bytes, 0, bytes.length), level, count, firstCellNo);
  return Array.from({ length: count }, (_, at) => table.get(at));
}

function readCells(reader: ByteReader, level: number, count: number, firstCellNo: number): SummaryTable {
  const table = new SummaryTable(count);
  let last = 0;
  for (let at = 0; at < count; at += 1) last = readCell(reader, (firstCellNo + at) * spanOf(level), last, table, at);
  reader.end();
  return table;
}

function writeCell(writer: ByteWriter, cell: Summary, firstAddress: number, last: number): void {
  const { counts, least, greatest, n, mean, squares } = cell;
  writer.byte(SAMPLES + (least !== null && greatest !== null ? WITH_EXTREMES : 0) + (n > 0 ? WITH_MEAN : 0));
  for (const name of STATUS_NAMES) writer.count(counts[name]);
  writer.signed(cell.firstPosition - last);
  writer.signed(cell.lastPosition - cell.firstPosition);
  writer.count(Math.min(cell.firstPosition, cell.lastPosition) - cell.fromPosition);
  writer.count(cell.toPosition - Math.max(cell.firstPosition, cell.lastPosition));
  if (least !== null && greatest !== null) {
    for (const { value, address } of [least, greatest]) {
      writer.f32(value);
      writer.count(address - firstAddress);
    }
  }
  if (n === 0) return;
  writer.count(counts.read - n);
  writer.f64(mean);
  writer.f64(squares);
}

/** Reads a cell into its place, and gives the position that the next one is relative to. */
function readCell(reader: ByteReader, firstAddress: number, last: number, table: SummaryTable, at: number): number {
  const kind = reader.byte();
  if (kind === EMPTY) {
    table.put(at, null);
    return last;
  }
  reader.demand((kind & SAMPLES) !== 0 && kind < 2 * WITH_MEAN, `there is no cell of kind ${kind}`);
  const [figures, own] = [table.numbers, table.fill(at)];
  for (let status = 0; status < STATUS_NAMES.length; status += 1) figures[own + status] = reader.count();
  const firstPosition = last + reader.signed();
  const lastPosition = firstPosition + reader.signed();
  figures[own + FIRST] = firstPosition;
  figures[own + LAST] = lastPosition;
  figures[own + FROM] = Math.min(firstPosition, lastPosition) - reader.count();
  figures[own + TO] = Math.max(firstPosition, lastPosition) + reader.count();
  const hasExtremes = (kind & WITH_EXTREMES) !== 0;
  figures[own + LEAST] = hasExtremes ? reader.f32() : 0;
  figures[own + LEAST_AT] = hasExtremes ? firstAddress + reader.count() : NOWHERE;
  figures[own + GREATEST] = hasExtremes ? reader.f32() : 0;
  figures[own + GREATEST_AT] = hasExtremes ? firstAddress + reader.count() : NOWHERE;
  const hasMean = (kind & WITH_MEAN) !== 0;
  figures[own + N] = hasMean ? (figures[own] as number) - reader.count() : 0;
  figures[own + MEAN] = hasMean ? reader.f64() : 0;
  figures[own + SQUARES] = hasMean ? reader.f64() : 0;
  return lastPosition;
}
