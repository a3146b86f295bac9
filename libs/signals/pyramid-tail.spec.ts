import { describe, expect, test } from '@jest/globals';
import { openSiblings, PyramidTail, type OpenSiblings } from './pyramid-tail.js';
import type { CellPage } from './cell-page.js';
import { BLOCK_SAMPLES, type Samples } from './sample.js';
import { summarise, type Summary } from './summary.js';

/** A short block, so that many are cheap; its values name it. */
const samplesOf = (nth: number): Samples => ({
  positions: Float64Array.of(nth * 10, nth * 10 + 5), values: Float32Array.of(nth, nth + 0.5), statuses: new Uint8Array(2),
});
const block = (nth: number): Summary => summarise(samplesOf(nth), 0, 2, nth * BLOCK_SAMPLES);

/** Cell by cell, with no page or cell met twice. */
function cellsOf(pages: readonly CellPage[]): Map<string, Summary | null> {
  const cells = new Map<string, Summary | null>();
  for (const { level, firstCellNo, cells: own } of pages) {
    own.forEach((cell, index) => {
      const key = `${level}/${firstCellNo + index}`;
      expect([key, cells.has(key)]).toEqual([key, false]);
      cells.set(key, cell);
    });
  }
  return cells;
}

describe('the end of a pyramid', () => {
  test.each([[[1]], [[150]], [[1, 2, 3, 4, 5, 6, 7]], [[63, 1, 1, 64, 21]]])('blocks put to it as %j make every whole cell once', (steps) => {
    const tail = new PyramidTail(0, new Map());
    const pages: CellPage[] = [];
    for (const step of steps) {
      const first = tail.nextBlock;
      pages.push(...tail.grow(Array.from({ length: step }, (_, index) => block(first + index))));
    }
    const total = steps.reduce((sum, step) => sum + step, 0);
    const cells = cellsOf(pages);
    for (let level = 4, span = 4; span <= total; level += 1, span *= 4) {
      const whole = Math.floor(total / span);
      expect([...cells.keys()].filter((key) => key.startsWith(`${level}/`))).toHaveLength(whole);
      for (let cell = 0; cell < whole; cell += 1) {
        const found = cells.get(`${level}/${cell}`);
        const values = Array.from({ length: span }, (_, index) => [cell * span + index, cell * span + index + 0.5]).flat();
        expect(found?.n).toBe(2 * span);
        expect(found?.least).toEqual({ value: cell * span, address: cell * span * BLOCK_SAMPLES });
        expect(found?.greatest).toEqual({ value: (cell + 1) * span - 0.5, address: ((cell + 1) * span - 1) * BLOCK_SAMPLES + 1 });
        expect(found?.mean).toBeCloseTo(values.reduce((sum, value) => sum + value, 0) / values.length, 9);
      }
    }
  });

  test('taken up again from its open siblings it goes on as if it had never stopped', () => {
    for (const stop of [1, 3, 4, 5, 15, 16, 17, 20, 63, 64]) {
      const whole = new PyramidTail(0, new Map());
      const blocks = Array.from({ length: stop }, (_, nth) => block(nth));
      const before = cellsOf([{ level: 3, firstCellNo: 0, cells: blocks }, ...whole.grow(blocks)]);
      const siblings = new Map(openSiblings(stop).map(({ level, fromCell, toCell }: OpenSiblings) => [
        level, Array.from({ length: toCell - fromCell }, (_, index) => before.get(`${level}/${fromCell + index}`) ?? null),
      ]));
      const again = new PyramidTail(stop, siblings);
      const more = Array.from({ length: 30 }, (_, index) => block(stop + index));
      expect(again.copy().grow(more)).toEqual(whole.copy().grow(more));
      expect(again.grow(more)).toEqual(whole.grow(more));
    }
  });

  test('refuses other siblings than it needs', () => {
    expect(() => new PyramidTail(3, new Map())).toThrow('level 3 needs cells 0 to 3, and has 0');
    expect(() => new PyramidTail(3, new Map([[3, [null, null, null]]]))).not.toThrow();
    expect(() => new PyramidTail(5, new Map([[3, [summarise(samplesOf(1), 0, 2, 0)]]]))).toThrow('level 4 needs cells 0 to 1, and has 0');
  });
});
