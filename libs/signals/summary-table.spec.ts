import { describe, expect, test } from '@jest/globals';
import { blocksOf, dropOut, emptySamples, KINDS, randomFrom } from '../../test/fixtures/signals.js';
import { cellsOfBlock } from './pyramid.js';
import { merge, type Summary } from './summary.js';
import { SummaryTable } from './summary-table.js';

/** Cells of signals of every kind, and of samples that were not read, for which nothing bounds. */
function cells(): (Summary | null)[] {
  const dropped = emptySamples(600);
  for (let index = 0; index < 400; index += 1) dropOut(dropped, index);
  return [...KINDS.flatMap((kind, nth) => blocksOf(kind, 5 + nth, 2)), dropped].flatMap((samples, blockNo) => cellsOfBlock(samples, blockNo));
}

describe('a table of summaries', () => {
  test('gives back what was put in, grows, and knows what it was never told', () => {
    const all = cells();
    expect([all.some((cell) => cell === null), all.some((cell) => cell !== null && cell.least === null)]).toEqual([true, true]);
    const table = SummaryTable.of(all);
    expect(all.map((_, at) => table.get(at))).toEqual(all);
    const grown = new SummaryTable(0);
    all.forEach((cell, at) => { if (at % 2 === 1) grown.put(at, cell); });
    expect(all.map((_, at) => [grown.isKnown(at), grown.get(at)])).toEqual(all.map((cell, at) => (at % 2 === 1 ? [true, cell] : [false, null])));
    expect(grown.isKnown(grown.room + 7)).toBe(false);
  });

  test('copies places, known or not', () => {
    const all = cells();
    const [table, other] = [SummaryTable.of(all), new SummaryTable(10)];
    other.copy(5, table, 3, 20);
    expect(Array.from({ length: 25 }, (_, at) => other.get(at))).toEqual(Array.from({ length: 25 }, (_, at) => (at < 5 ? null : all[at - 2] ?? null)));
    expect([other.isKnown(4), other.isKnown(5)]).toEqual([false, true]);
  });

  test('merges to the last bit as summaries are merged', () => {
    const random = randomFrom(9);
    const all = cells();
    const source = SummaryTable.of(all);
    for (let trial = 0; trial < 500; trial += 1) {
      const picked = Array.from({ length: 1 + Math.floor(random() * 6) }, () => Math.floor(random() * all.length));
      const table = new SummaryTable(1);
      let expected: Summary | null = null;
      for (const at of picked) {
        const cell = all[at] ?? null;
        expected = cell === null ? expected : expected === null ? cell : merge(expected, cell);
        table.merge(0, source, at);
      }
      expect(table.get(0)).toEqual(expected);
    }
  });
});
