import { describe, expect, test } from '@jest/globals';
import { costOf, planFiner, planView, type Fetch } from './view-plan.js';

const rawBlocks = ({ raw }: Fetch): number[] => raw.map(({ blockNo }) => blockNo);

describe('what a view reads', () => {
  test('is the blocks themselves while they are few', () => {
    expect(planView([{ fromBlock: 5, toBlock: 5 }], 1_200)).toEqual({ cells: [], raw: [] });
    expect(planView([{ fromBlock: 5, toBlock: 7 }], 1)).toEqual({ cells: [], raw: [{ blockNo: 5, from: 0, to: 4_096 }, { blockNo: 6, from: 0, to: 4_096 }] });
    expect(rawBlocks(planView([{ fromBlock: 0, toBlock: 75 }], 1_200))).toHaveLength(75);
  });

  test('of more is the first and the last block, and between them cells, at most four a pixel', () => {
    const plan = planView([{ fromBlock: 0, toBlock: 76 }], 1_200);
    expect(rawBlocks(plan)).toEqual([0, 75]);
    expect(plan.cells).toEqual([{ level: 1, fromCell: 16, toCell: 75 * 16 }]);
    expect(planView([{ fromBlock: 0, toBlock: 302 }], 1_200).cells).toEqual([{ level: 1, fromCell: 16, toCell: 301 * 16 }]);
    expect(planView([{ fromBlock: 0, toBlock: 303 }], 1_200).cells).toEqual([{ level: 2, fromCell: 4, toCell: 302 * 4 }]);
    expect(planView([{ fromBlock: 0, toBlock: 4_802 }], 1_200).cells).toEqual([{ level: 3, fromCell: 1, toCell: 4_801 }]);
  });

  test('goes up to coarser cells where they fit, by finer ones at the ends', () => {
    const plan = planView([{ fromBlock: 0, toBlock: 100 }], 5);
    // 98 blocks in at most 20 cells: two levels up, 1–3 and 4–12 by block and four blocks, then sixteen blocks a cell.
    expect(plan.cells).toEqual([
      { level: 3, fromCell: 1, toCell: 4 }, { level: 4, fromCell: 1, toCell: 4 }, { level: 5, fromCell: 1, toCell: 6 },
      { level: 3, fromCell: 96, toCell: 99 },
    ]);
    // Blocks 5 to 18 hold two whole fours of blocks and no sixteen.
    expect(planView([{ fromBlock: 4, toBlock: 20 }], 1).cells).toEqual([
      { level: 3, fromCell: 5, toCell: 8 }, { level: 4, fromCell: 2, toCell: 4 }, { level: 3, fromCell: 16, toCell: 19 },
    ]);
  });

  test('below a cell is its four cells, and below the finest its samples', () => {
    expect(planFiner([{ level: 3, cellNo: 7 }, { level: 1, cellNo: 35 }])).toEqual({
      cells: [{ level: 2, fromCell: 28, toCell: 32 }], raw: [{ blockNo: 2, from: 768, to: 1_024 }],
    });
  });

  test('costs one for a cell and sixteen for a block, however many of its samples are wanted', () => {
    expect(costOf(planFiner([{ level: 1, cellNo: 0 }, { level: 1, cellNo: 15 }, { level: 1, cellNo: 16 }, { level: 2, cellNo: 9 }]))).toBe(2 * 16 + 4);
  });

  test.each<[number, number, number, string]>([
    [0, 1, 0, 'widthPx is not a whole number above 0: 0'],
    [0, 1, 1.5, 'widthPx is not a whole number above 0: 1.5'],
    [2, 1, 10, 'there are no blocks from 2 to 1'],
    [-1, 1, 10, 'there are no blocks from -1 to 1'],
    [0, Infinity, 10, 'there are no blocks from 0 to Infinity'],
  ])('is not planned for blocks %d to %d in %d px', (fromBlock, toBlock, widthPx, message) => {
    expect(() => planView([{ fromBlock, toBlock }], widthPx)).toThrow(new RangeError(message));
  });
});
