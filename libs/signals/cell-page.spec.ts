import { describe, expect, test } from '@jest/globals';
import { blocksOf, dropOut, emptySamples, KINDS } from '../../test/fixtures/signals.js';
import { decodePage, encodePage, type CellPage } from './cell-page.js';
import { cellsOfBlock, parentsOf } from './pyramid.js';

const [wall] = KINDS;
const blocks = wall === undefined ? [] : blocksOf(wall, 3, 4);
const cells = blocks.flatMap((samples, index) => cellsOfBlock(samples, 8 + index));

describe('a page of cells', () => {
  test('comes back as it is, at every level', () => {
    const pages: CellPage[] = [{ level: 1, firstCellNo: 128, cells }];
    while (pages.length < 4) {
      const last = pages.at(-1) as CellPage;
      pages.push({ level: last.level + 1, firstCellNo: last.firstCellNo / 4, cells: parentsOf(last.cells, last.firstCellNo) });
    }
    for (const page of pages) expect(decodePage(encodePage(page))).toEqual(page);
  });

  test('keeps cells without samples, without figures, and of pipe that moved back', () => {
    const samples = emptySamples(600);
    for (let index = 0; index < 256; index += 1) dropOut(samples, index);
    samples.positions.forEach((_, index) => { samples.positions[index] = Math.round(1e15 + 5_000 * Math.sin(index / 20)); });
    samples.values[300] = NaN;
    samples.values[301] = -2.5;
    const page = { level: 1, firstCellNo: 0, cells: cellsOfBlock(samples, 0) };
    expect(decodePage(encodePage(page))).toEqual(page);
  });

  test('takes about a twentieth of what its samples take raw', () => {
    expect(encodePage({ level: 1, firstCellNo: 128, cells }).length / (4 * 4_096 * 4)).toBeLessThan(0.05);
  });

  test('is refused when it is a block, cut or changed', () => {
    const bytes = encodePage({ level: 1, firstCellNo: 128, cells });
    const first = bytes.map((byte, index) => (index === 1 ? 0x42 : byte));
    expect(() => decodePage(first)).toThrow('stored bytes do not begin with "SP"');
    expect(() => decodePage(bytes.subarray(0, 99))).toThrow(expect.objectContaining({ code: 'wrong-length' }));
    expect(() => decodePage(bytes.map((byte, index) => (index === 99 ? byte ^ 4 : byte)))).toThrow(expect.objectContaining({ code: 'wrong-checksum' }));
  });

  test('is not made of no cells, too many, or of a level or number that is none', () => {
    const page = { level: 1, firstCellNo: 0, cells };
    expect(() => encodePage({ ...page, cells: [] })).toThrow(new RangeError('a page has 1 to 1024 cells, not 0'));
    expect(() => encodePage({ ...page, cells: new Array<null>(1_025).fill(null) })).toThrow(new RangeError('a page has 1 to 1024 cells, not 1025'));
    for (const level of [0, 1.5, 21]) expect(() => encodePage({ ...page, level })).toThrow(new RangeError(`there is no level ${level}`));
    for (const firstCellNo of [-1, 0.5]) expect(() => encodePage({ ...page, firstCellNo })).toThrow(new RangeError(`there is no cell ${firstCellNo}`));
  });
});
