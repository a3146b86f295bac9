import { describe, expect, test } from '@jest/globals';
import { summarise, SummaryTable, type Samples } from '#libs/signals';
import { ChannelDirectory } from './channel-directory.js';
import type { Stretch } from './stretch.js';
import { addCells, cellsFor, levelFor, windowAt, windowsOn, type StretchWindows } from './window-cells.js';
import { endPieces } from './window-pieces.js';

const CELL = 256;
const ON = 12_288;

/** Three blocks of a sample a millimetre, its value its position, on pipe that runs one way or the other. */
function madeOf(footageRises: boolean): { readonly directory: ChannelDirectory; readonly stretch: Stretch } {
  const directory = new ChannelDirectory();
  directory.know({ id: 'u', runId: 'r', position: 'counter', decimals: 0 });
  for (let no = 0; no < 3; no += 1) directory.add({ samples: 4_096, firstPosition: no * 4_096, lastPosition: no * 4_096 + 4_095, fromUs: no, toUs: no + 1, unread: 0, knownUs: 0, uploadId: 'u' });
  const mirrored = (one: number): number => (footageRises ? one : ON - one);
  return { directory, stretch: { runId: 'r', fromBlock: 0, toBlock: 3, falls: !footageRises, positionsRise: true, footageRises, fromUs: 0, toUs: 3, fromPosition: -Infinity, toPosition: Infinity, by: null, footageOf: mirrored, positionOf: mirrored, isStraight: () => true } };
}

function table(): SummaryTable {
  return SummaryTable.of(Array.from({ length: ON / CELL }, (_, cell) => {
    const positions = Float64Array.from({ length: CELL }, (__, index) => cell * CELL + index);
    const samples: Samples = { positions, values: Float32Array.from(positions), statuses: new Uint8Array(CELL) };
    return summarise(samples, 0, CELL, cell * CELL);
  }));
}

describe('windows on a stretch', () => {
  test('take the level of which eight cells are in them, up to that of blocks; none for too few samples', () => {
    expect([767, 768, 8_191, 8_192, 32_767, 32_768, 10_000_000].map(levelFor)).toEqual([null, 1, 1, 2, 2, 3, 3]);
  });

  test('are read by the blocks that they reach into, each once, and those far from each other apart', () => {
    const { directory, stretch } = madeOf(true);
    const cells = (...fromMm: number[]): unknown => cellsFor(directory, windowsOn(directory, stretch, fromMm.map((from) => ({ fromMm: from, toMm: from + 1_000 }))) as StretchWindows, 1);
    expect(cells(0, 1_000)).toEqual([{ level: 1, fromCell: 0, toCell: 16 }]);
    expect(cells(0, 10_000)).toEqual([{ level: 1, fromCell: 0, toCell: 16 }, { level: 1, fromCell: 32, toCell: 48 }]);
    expect(cells(0, 4_000)).toEqual([{ level: 1, fromCell: 0, toCell: 32 }]);
    expect(windowsOn(directory, stretch, [{ fromMm: 20_000, toMm: 21_000 }])).toBeNull();
  });

  test.each([true, false])('with more pipe around them count the cells that they meet and that lie in it, and the ends are read by sample: no extreme is lost; footage rises with the position: %s', (footageRises) => {
    const { directory, stretch } = madeOf(footageRises);
    const windows = [{ fromMm: 300, toMm: 1_500 }, { fromMm: 1_500, toMm: 2_700 }, { fromMm: 5_000, toMm: 6_200 }];
    const pipe = [{ fromMm: 300, toMm: 2_700 }, { fromMm: 4_900, toMm: 6_300 }];
    const reaches = [pipe[0], pipe[0], pipe[1]] as { fromMm: number; toMm: number }[];
    const own = windowsOn(directory, stretch, windows, reaches) as StretchWindows;
    const into = new SummaryTable(windows.length);
    addCells([{ level: 1, firstCellNo: 0, table: table(), from: 0, to: ON / CELL }], own, into, () => undefined);
    const pieces = endPieces(own, windows, reaches);
    const isIn = (mm: number, { fromMm, toMm }: { fromMm: number; toMm: number }): boolean => mm >= fromMm && mm < toMm;
    const positions = Array.from({ length: ON }, (_, position) => position);
    windows.forEach((window, index) => {
      const seen = new Set<number>();
      for (const position of positions) {
        const from = position - (position % CELL);
        const cell = positions.slice(from, from + CELL).map((one) => stretch.footageOf(one));
        if (cell.some((mm) => isIn(mm, window)) && cell.every((mm) => isIn(mm, reaches[index] as typeof window))) seen.add(position);
      }
      expect(into.get(index)?.n).toBe(seen.size);
      const lost = positions.filter((position) => isIn(stretch.footageOf(position), window) && !seen.has(position));
      expect(lost.filter((position) => !pieces.some((piece) => piece.window === index && isIn(stretch.footageOf(position), piece)))).toEqual([]);
      expect(lost.length).toBeGreaterThan(0);
    });
  });

  test.each([true, false])('count the cells that lie wholly in them, and no other; footage rises with the position: %s', (footageRises) => {
    const { directory, stretch } = madeOf(footageRises);
    const windows = [{ fromMm: 300, toMm: 2_000 }, { fromMm: 2_000, toMm: 4_500 }, { fromMm: 9_000, toMm: 20_000 }];
    const into = new SummaryTable(windows.length);
    const met: number[] = [];
    addCells([{ level: 1, firstCellNo: 0, table: table(), from: 0, to: ON / CELL }], windowsOn(directory, stretch, windows) as StretchWindows, into, (window) => { met.push(window); });
    windows.forEach(({ fromMm, toMm }, index) => {
      // By brute force: a sample counts where its whole cell lies in the window.
      const isIn = (position: number): boolean => {
        const mm = stretch.footageOf(position);
        return mm >= fromMm && mm < toMm;
      };
      const counted = Array.from({ length: ON }, (_, position) => position).filter((position) => {
        const from = position - (position % CELL);
        return isIn(from) && isIn(from + CELL - 1);
      });
      expect(into.get(index)).toMatchObject({ n: counted.length, least: { value: counted[0] }, greatest: { value: counted.at(-1) } });
      expect(met.filter((one) => one === index)).toHaveLength(counted.length / CELL);
    });
  });

  test('are found from wherever one looks', () => {
    const lows = [10, 20, 30, 40];
    for (const hint of [0, 1, 2, 3]) expect([9, 10, 19, 20, 45].map((position) => windowAt(lows, position, hint))).toEqual([-1, 0, 0, 1, 3]);
  });
});
