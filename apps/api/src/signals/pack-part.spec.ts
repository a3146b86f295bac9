import { describe, expect, test } from '@jest/globals';
import { NO_RULES } from '#libs/sample-files';
import {
  BLOCK_LEVEL, cellsInBlock, cellsOfBlock, decodeBlock, encodeBlock, encodePage, openCells, PAGE_CELLS, parentsOf, part, sealPage, type Samples, type Summary,
} from '#libs/signals';
import { arrowStream, float32s, int64s } from '../../../../test/fixtures/sample-files.js';
import { KINDS, randomFrom } from '../../../../test/fixtures/signals.js';
import { packPart } from './pack-part.js';
import type { PackedPart } from './packed-part.js';

// More than one page of cells of level 1 (1,024), and a last block that is not full.
const ROWS = 68 * 4_096 + 1_000;
const BLOCKS = 69;
const NAMES = ['wall', 'amplitude'];
const RULES = { ...NO_RULES, missingValues: [-999], saturatesAtHigh: 100 };

/** A gap of 50 mm every 10,000 rows, a dropout every 7,000. */
function channelsOf(): Samples[] {
  const positions = Float64Array.from({ length: ROWS }, (_, row) => row + 50 * Math.floor(row / 10_000));
  return [0, 2].map((kind) => {
    const signal = (KINDS[kind] as (typeof KINDS)[number]).signal(randomFrom(kind));
    const values = Float32Array.from({ length: ROWS }, (_, row) => (row % 7_000 < 20 ? -999 : signal(row)));
    return { positions, values, statuses: Uint8Array.from(values, (value) => (value === -999 ? 1 : value >= 100 ? 2 : 0)) };
  });
}

function packed(channels: readonly Samples[]): PackedPart {
  const counter = { name: 'counter', batches: [int64s(BigInt64Array.from(channels[0]?.positions ?? [], BigInt))] };
  const bytes = arrowStream([counter, ...channels.map(({ values }, nth) => ({ name: NAMES[nth] ?? '', batches: [float32s(values)] }))]);
  return packPart({
    bytes: new Uint8Array(bytes),
    shape: { format: 'arrow', encoding: 'identity', direction: 'forward', position: { name: 'counter', kind: 'counter', decimals: 0 }, columns: NAMES.map((name) => ({ name, rules: RULES })) },
  });
}

const blocksOf = (channel: Samples): Samples[] => Array.from({ length: BLOCKS }, (_, block) => part(channel, block * 4_096, Math.min((block + 1) * 4_096, ROWS)));

/** Pieces of these lengths, one after another, of all that is there. */
function cut(whole: Uint8Array, lengths: readonly number[]): Uint8Array[] {
  let at = 0;
  const pieces = lengths.map((length) => whole.subarray(at, at += length));
  expect(at).toBe(whole.length);
  return pieces;
}

describe('a part of two channels', () => {
  const channels = channelsOf();
  const { columns, bodies, cells, samples, firstPosition, lastPosition } = packed(channels);

  test('becomes the blocks of each channel, as each would be on its own', () => {
    const found = cut(bodies, columns.flatMap(({ blocks }) => blocks.map(({ bytes }) => bytes)));
    expect(found).toEqual(channels.flatMap((channel) => blocksOf(channel).map(encodeBlock)));
    expect([samples, firstPosition, lastPosition]).toEqual([ROWS, 0, ROWS - 1 + 50 * Math.floor((ROWS - 1) / 10_000)]);
    for (const [nth, { blocks }] of columns.entries()) {
      const own = blocksOf(channels[nth] as Samples);
      expect(blocks.map(({ firstIndex }) => firstIndex)).toEqual(own.map((_, block) => block * 4_096));
      expect(blocks.map((block) => [block.samples, block.firstPosition, block.lastPosition])).toEqual(own.map(({ positions }) => [positions.length, positions[0], positions.at(-1)]));
      expect(blocks.map(({ unread }) => unread)).toEqual(own.map(({ statuses }) => statuses.filter((status) => status === 1).length));
      expect(blocks.some(({ unread }) => unread > 0)).toBe(true);
    }
    expect(decodeBlock(found.at(-1) as Uint8Array).values).toHaveLength(1_000);
  });

  test('brings all cells within its blocks, which become the pages that they would be by any number', () => {
    const found = cut(cells, columns.flatMap(({ pages }) => pages.map(({ bytes }) => bytes)));
    const firstBlock = 1_234;
    const expected = channels.flatMap((channel) => {
      let own: (Summary | null)[] = blocksOf(channel).flatMap((samplesOfBlock, block) => cellsOfBlock(samplesOfBlock, firstBlock + block));
      return Array.from({ length: BLOCK_LEVEL }, (_, below) => {
        if (below > 0) own = parentsOf(own, firstBlock * cellsInBlock(below));
        return Array.from({ length: Math.ceil(own.length / PAGE_CELLS) }, (__, page) => ({
          level: below + 1, firstCellNo: firstBlock * cellsInBlock(below + 1) + page * PAGE_CELLS, cells: own.slice(page * PAGE_CELLS, (page + 1) * PAGE_CELLS),
        }));
      }).flat();
    });
    const pages = columns.flatMap((column) => column.pages);
    expect(pages).toHaveLength(2 * (2 + 1 + 1));
    expect(pages.map(({ level, firstIndex }) => [level, firstIndex])).toEqual(expected.map(({ level, firstCellNo }) => [level, firstCellNo - firstBlock * cellsInBlock(level)]));
    for (const [nth, page] of expected.entries()) {
      const { level, cells: count, firstIndex, empty } = pages[nth] as (typeof pages)[number];
      const encoded = { level, count, bytes: found[nth] as Uint8Array };
      const firstCellNo = firstBlock * cellsInBlock(level) + firstIndex;
      expect(sealPage(encoded, firstCellNo)).toEqual(encodePage(page));
      expect(openCells(encoded, firstCellNo)).toEqual(page.cells);
      expect(empty).toBe(page.cells.filter((cell) => cell === null).length);
    }
    expect(pages.some(({ empty }) => empty > 0)).toBe(true);
  });
});
