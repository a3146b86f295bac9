import { describe, expect, test } from '@jest/globals';
import { cellsOfBlock, SummaryTable, type CellRun, type PageTable, type Summary } from '#libs/signals';
import { blocksOf, KINDS } from '../../../../test/fixtures/signals.js';
import { KeptCells } from './kept-cells.js';

const [wall] = KINDS;
const CELLS = (wall === undefined ? [] : blocksOf(wall, 3, 1)).flatMap((samples) => cellsOfBlock(samples, 0));
const cellOf = (no: number): Summary | null => (no % 7 === 3 ? null : CELLS[no % CELLS.length] ?? null);
const page = (level: number, firstCellNo: number, count: number): PageTable =>
  ({ level, firstCellNo, count, table: SummaryTable.of(Array.from({ length: count }, (_, index) => cellOf(firstCellNo + index))) });
const run = (level: number, fromCell: number, toCell: number): CellRun => ({ level, fromCell, toCell });
const MEGABYTE = 2 ** 20;

/** The cells of a run as they are told, by their numbers; those of no samples left out. */
const told = (kept: KeptCells, channel: string, asked: CellRun): (readonly [number, Summary | null])[] =>
  kept.shelves(channel, [asked]).rows(asked).flatMap(({ firstCellNo, table, from, to }) =>
    Array.from({ length: to - from }, (_, index) => [firstCellNo + index, table.get(from + index)] as const)).filter(([, cell]) => cell !== null);

describe('kept cells', () => {
  test('are asked for once: what a page brought is known from then on, over the ends of shelves too', () => {
    const kept = new KeptCells(MEGABYTE);
    const asked = run(1, 100, 900);
    const shelves = kept.shelves('c', [asked]);
    expect(shelves.missing).toEqual([asked]);
    shelves.put(page(1, 60, 700));
    shelves.put(page(1, 760, 240));
    expect(kept.shelves('c', [asked]).missing).toEqual([]);
    expect(told(kept, 'c', asked)).toEqual(Array.from({ length: 800 }, (_, index) => [100 + index, cellOf(100 + index)] as const).filter(([, cell]) => cell !== null));
    // Only what is not known is missing; another level, and another channel, know nothing.
    expect(kept.shelves('c', [run(1, 0, 1_300)]).missing).toEqual([run(1, 0, 60), run(1, 1_000, 1_300)]);
    expect([kept.shelves('c', [run(2, 100, 101)]).missing, kept.shelves('d', [asked]).missing]).toEqual([[run(2, 100, 101)], [asked]]);
  });

  test('that were not there yet are asked for again', () => {
    const kept = new KeptCells(MEGABYTE);
    kept.shelves('c', [run(3, 0, 10)]).put(page(3, 0, 10));
    expect(kept.shelves('c', [run(3, 0, 14)]).missing).toEqual([run(3, 10, 14)]);
    expect(told(kept, 'c', run(3, 0, 14)).length).toBe(told(kept, 'c', run(3, 0, 10)).length);
  });

  test('stay in hand while they are read, though they go for others', () => {
    const kept = new KeptCells(40_000);
    const asked = run(1, 0, 256);
    const shelves = kept.shelves('c', [asked]);
    shelves.put(page(1, 0, 256));
    kept.shelves('d', [asked]).put(page(1, 0, 256));
    expect(kept.shelves('c', [asked]).missing).toEqual([asked]);
    expect(shelves.rows(asked)[0]?.table.get(5)).toEqual(cellOf(5));
  });

  test('of runs that touch are asked for together', () => {
    expect(new KeptCells(MEGABYTE).shelves('c', [run(2, 40, 44), run(2, 44, 48), run(1, 0, 4), run(2, 42, 60), run(2, 70, 71)]).missing).toEqual([run(1, 0, 4), run(2, 40, 60), run(2, 70, 71)]);
  });
});
