import { describe, expect, test } from '@jest/globals';
import { emptySamples } from '../../test/fixtures/signals.js';
import { BLOCK_LEVEL, cellsOfBlock, parentsOf, spanOf } from './pyramid.js';
import { BLOCK_SAMPLES, type Samples } from './sample.js';
import { samplesOf, summarise } from './summary.js';

function ramp(count: number): Samples {
  const samples = emptySamples(count);
  samples.values.forEach((_, index) => {
    samples.values[index] = index;
    samples.positions[index] = 10 * index;
  });
  return samples;
}

describe('the pyramid', () => {
  test('has sixteen cells in a block, and one at the level of blocks', () => {
    expect([1, 2, 3, 4].map(spanOf)).toEqual([256, 1_024, 4_096, 16_384]);
    expect(spanOf(BLOCK_LEVEL)).toBe(BLOCK_SAMPLES);
    const block = ramp(4_096);
    const cells = cellsOfBlock(block, 3);
    expect(cells).toHaveLength(16);
    const [whole, ...more] = parentsOf(parentsOf(cells, 48), 12);
    expect(more).toEqual([]);
    const direct = summarise(block, 0, 4_096, 3 * 4_096);
    expect(whole).toEqual({ ...direct, squares: whole?.squares });
    expect(whole?.squares).toBeCloseTo(direct.squares, 3);
    // Of the whole numbers below n the sum of squares about the mean is n (n² − 1) / 12.
    expect(Math.abs((whole?.squares ?? 0) / ((4_096 * (4_096 ** 2 - 1)) / 12) - 1)).toBeLessThan(1e-14);
  });

  test('has no cells where a short block has no samples', () => {
    const cells = cellsOfBlock(ramp(300), 0);
    expect(cells.map((cell) => (cell === null ? 0 : samplesOf(cell)))).toEqual([256, 44, ...new Array<number>(14).fill(0)]);
    expect(parentsOf(cells, 0).map((cell) => cell === null)).toEqual([false, true, true, true]);
  });

  test('gives parents only to cells that begin under one', () => {
    expect(() => parentsOf([null], 2)).toThrow(new RangeError('cell 2 is not the first under its parent'));
    expect(parentsOf(cellsOfBlock(ramp(4_096), 0).slice(0, 6), 0)).toHaveLength(2);
  });
});
