import { describe, expect, test } from '@jest/globals';
import { columnOf, drawColumns, evenEdges, sift, type Cell, type CellRow, type Column, type RawSamples, type Sharpness } from './envelope.js';
import { STATUS, type Samples } from './sample.js';
import { samplesOf, summarise } from './summary.js';
import { SummaryTable } from './summary-table.js';

const samplesAt = (positions: number[], values: number[], statuses: number[] = []): Samples => ({
  positions: Float64Array.from(positions), values: Float32Array.from(values), statuses: Uint8Array.from(positions, (_, index) => statuses[index] ?? STATUS.read),
});
const rawAt = (positions: number[], values: number[], statuses?: number[]): RawSamples => ({ firstAddress: 0, samples: () => samplesAt(positions, values, statuses) });
const cellAt = (cellNo: number, positions: number[], values: number[]): Cell =>
  ({ level: 1, cellNo, table: SummaryTable.of([summarise(samplesAt(positions, values), 0, positions.length, cellNo * 256)]), at: 0 });
const rows = (cells: readonly Cell[]): CellRow[] => cells.map(({ level, cellNo, table, at }) => ({ level, firstCellNo: cellNo, table, from: at, to: at + 1 }));

const shown = (columns: Column[]): (readonly [number, number, number, Sharpness] | null)[] =>
  columns.map(({ summary, sharpness }) => (summary?.least == null ? null : [summary.least.value, summary.greatest?.value ?? NaN, summary.mean, sharpness]));

const edges = evenEdges(0, 40, 4);

describe('columns', () => {
  test('divide an interval evenly and end where it ends', () => {
    expect([...edges]).toEqual([0, 10, 20, 30, 40]);
    expect(evenEdges(0, 0.3, 3)[3]).toBe(0.3);
    expect([-1, 0, 9, 9.99, 10, 39, 40, 41].map((position) => columnOf(edges, position))).toEqual([-1, 0, 0, 0, 1, 3, 4, 4]);
  });

  test.each<[number, number, number, string]>([
    [3, 3, 4, 'there is nothing from 3 to 3'],
    [4, 3, 4, 'there is nothing from 4 to 3'],
    [0, Infinity, 4, 'there is nothing from 0 to Infinity'],
    [0, 1, 0, 'widthPx is not a whole number above 0: 0'],
  ])('are not made from %d to %d in %d px', (from, to, widthPx, message) => {
    expect(() => evenEdges(from, to, widthPx)).toThrow(new RangeError(message));
  });

  test('of samples are exact, and leave out what lies outside', () => {
    const columns = drawColumns(edges, [], [rawAt([-1, 0, 9, 10, 25, 25, 39, 40], [99, 1, 3, 5, 7, 8, 2, 99])]);
    expect(shown(columns)).toEqual([[1, 3, 2, 'exact'], [5, 5, 5, 'exact'], [7, 8, 7.5, 'exact'], [2, 2, 2, 'exact']]);
    expect(columns[2]?.summary?.greatest).toEqual({ value: 8, address: 5 });
  });

  test('are gaps where there is nothing, and where nothing could be read', () => {
    const columns = drawColumns(edges, [], [rawAt([5, 15, 16, 35], [1, 0, 0, 4], [STATUS.read, STATUS.missing, STATUS.missing, STATUS.read])]);
    expect(shown(columns)).toEqual([[1, 1, 1, 'exact'], null, null, [4, 4, 4, 'exact']]);
    // Dropouts can be told from no samples at all.
    expect(columns.map(({ summary }) => (summary === null ? 0 : samplesOf(summary)))).toEqual([1, 2, 0, 1]);
  });

  test('take pipe that was read twice into one column', () => {
    expect(shown(drawColumns(edges, [], [rawAt([8, 12, 8, 12], [1, 2, 3, 4])]))).toEqual([[1, 3, 2, 'exact'], [2, 4, 3, 'exact'], null, null]);
  });

  test('of a cell are exact where it lies in one, and say so where it counts in two', () => {
    const cells = [cellAt(1, [12, 18], [1, 2]), cellAt(2, [19, 21], [9, 3])];
    expect(sift(rows(cells), edges)).toEqual({ fine: cells, coarse: [] });
    expect(shown(drawColumns(edges, cells, []))).toEqual([null, [1, 9, 3.75, 'shared'], [3, 9, 6, 'shared'], null]);
    expect(shown(drawColumns(edges, cells.slice(0, 1), []))).toEqual([null, [1, 2, 1.5, 'exact'], null, null]);
  });

  test('of cells and samples name the first address that has an extreme, whatever came first', () => {
    const cell = cellAt(1, [2, 3], [7, 7]);
    const raw = rawAt([0, 1], [7, 7]);
    expect(drawColumns(edges, [cell], [raw])[0]?.summary).toMatchObject({ greatest: { value: 7, address: 0 }, firstPosition: 0, lastPosition: 3, n: 4 });
  });

  test('want a cell finer that reaches past an end or over more than two, and none that lies outside', () => {
    const cells = [cellAt(0, [-9, -1], [1, 1]), cellAt(1, [-1, 1], [1, 1]), cellAt(2, [5, 25], [1, 1]), cellAt(3, [39, 40], [1, 1]), cellAt(4, [40, 41], [1, 1])];
    expect(sift(rows(cells), edges)).toEqual({ fine: [], coarse: [cells[1], cells[2], cells[3]] });
    expect(shown(drawColumns(edges, cells.slice(2, 3), []))).toEqual([[1, 1, 1, 'coarse'], [1, 1, 1, 'coarse'], [1, 1, 1, 'coarse'], null]);
  });
});
