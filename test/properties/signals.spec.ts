import { describe, expect, jest, test } from '@jest/globals';
import fc from 'fast-check';
import {
  bitsOf, blockBound, BLOCK_SAMPLES, BlockError, CELLS_PER_PIXEL, cellsOfBlock, costOf, decodeBlock, decodePage, encodeBlock, encodePage, evenEdges, part, planView,
  spanOf, summarise, type Samples,
} from '#libs/signals';
import { blocksOf, emptySamples, KINDS, randomFrom } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { blocksAt, channelOf, plainOf, pyramidOf, storeOf, view, type Store } from './signals.channel.js';
import { differences, greatestOf, leastOf, wrongWith } from './signals.judged.js';
import { walkAddresses, walkColumns } from './signals.reference.js';

// Thousands of walks over every sample, on cores shared with other suites.
jest.setTimeout(120_000);

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 300 };
const SEED = seedFromEnvironment().seed ?? 5;

const bits = fc.oneof(
  fc.nat({ max: 0xffffffff }),
  fc.constantFrom(0x7fc00000, 0x7fc00001, 0x7f800001, 0xffffffff, 0x80000000, 0, 1, 0x80000001, 0x007fffff, 0x7f800000, 0xff800000, 0x7f7fffff),
  fc.integer({ min: -20_000, max: 20_000 }).map((k) => bitsOf(Float32Array.of(k / 1000))[0] ?? 0),
);
const steps = fc.oneof({ weight: 8, arbitrary: fc.constant(1) }, fc.integer({ min: -50, max: 50 }), fc.integer({ min: -(2 ** 40), max: 2 ** 40 }));

const anySamples: fc.Arbitrary<Samples> = fc
  .tuple(fc.array(fc.record({ bits, step: steps, status: fc.oneof({ weight: 5, arbitrary: fc.constant(0) }, fc.nat({ max: 5 })) }), { minLength: 1, maxLength: 400, size: 'max' }), fc.integer({ min: -(2 ** 50), max: 2 ** 50 }))
  .map(([given, start]) => {
    const samples = emptySamples(given.length);
    let position = start;
    given.forEach((one, index) => {
      position += one.step;
      bitsOf(samples.values)[index] = one.bits;
      samples.statuses[index] = one.status;
      samples.positions[index] = position;
    });
    return samples;
  });

/** Whether two blocks are the same in every bit. */
const isSame = (a: Samples, b: Samples): boolean => {
  const [left, right] = [bitsOf(a.values), bitsOf(b.values)];
  return left.length === right.length && left.every((one, index) => one === right[index]
    && a.positions[index] === b.positions[index] && a.statuses[index] === b.statuses[index]);
};

describe('blocks', () => {
  test('give back every bit of any samples, within their bound', () => {
    fc.assert(fc.property(anySamples, (samples) => {
      const bytes = encodeBlock(samples);
      expect(bytes.length).toBeLessThanOrEqual(blockBound(samples.values.length));
      expect(isSame(decodeBlock(bytes), samples)).toBe(true);
    }), PARAMETERS);
  });

  test('are refused with any one bit changed, and cut anywhere', () => {
    const refused = { flipped: 0, cut: 0 };
    const demandRefused = (decode: (bytes: Uint8Array) => unknown, bytes: Uint8Array): void => {
      // An expectation for each of a hundred thousand would take minutes.
      try {
        decode(bytes);
      } catch (error) {
        if (error instanceof BlockError) return;
        throw error;
      }
      throw new Error('damaged bytes were taken');
    };
    const [wall] = blocksOf(KINDS[0]!, SEED, 1);
    const random = part(wall!, 0, 700);
    const all: [(bytes: Uint8Array) => unknown, Uint8Array][] = [
      ...fc.sample(anySamples, { ...seedFromEnvironment(), numRuns: 5 }).map((samples): [typeof decodeBlock, Uint8Array] => [decodeBlock, encodeBlock(samples)]),
      [decodeBlock, encodeBlock(random)], [decodeBlock, encodeBlock(wall!)], [decodePage, encodePage({ level: 1, firstCellNo: 16, cells: cellsOfBlock(wall!, 1) })],
    ];
    for (const [decode, bytes] of all) {
      for (let bit = 0; bit < bytes.length * 8; bit += 1) {
        bytes[bit >> 3]! ^= 1 << (bit & 7);
        demandRefused(decode, bytes);
        bytes[bit >> 3]! ^= 1 << (bit & 7);
        refused.flipped += 1;
      }
      for (let length = 0; length < bytes.length; length += 1, refused.cut += 1) demandRefused(decode, bytes.subarray(0, length));
      expect(() => decode(bytes)).not.toThrow();
    }
    expect(refused.flipped).toBeGreaterThan(40_000);
    expect(refused.cut).toBe(refused.flipped / 8);
  });

  test('of several damages at once are refused, or what comes out is what went in', () => {
    const bytes = encodeBlock(blocksOf(KINDS[2]!, SEED, 1)[0]!);
    const damage = fc.array(fc.tuple(fc.nat({ max: bytes.length - 1 }), fc.integer({ min: 1, max: 255 })), { minLength: 1, maxLength: 50 });
    fc.assert(fc.property(damage, (changes) => {
      const damaged = bytes.slice();
      for (const [at, by] of changes) damaged[at]! ^= by;
      fc.pre(damaged.some((byte, index) => byte !== bytes[index]));
      expect(() => decodeBlock(damaged)).toThrow(BlockError);
    }), PARAMETERS);
  });

  test.each(KINDS)('of $name take no more than they may', (kind) => {
    const blocks = blocksOf(kind, SEED, 25);
    const samples = blocks.reduce((sum, { values }) => sum + values.length, 0);
    const share = blocks.reduce((sum, block) => sum + encodeBlock(block).length, 0) / (samples * 4);
    expect(share).toBeLessThanOrEqual(kind.shareAtMost);
    expect(blocks.every((block) => isSame(decodeBlock(encodeBlock(block)), block))).toBe(true);
  });
});

const COURSES = { even: { gaps: 0, stops: 0, reversals: 0 }, usual: { gaps: 0.00005, stops: 0.00005, reversals: 0 }, wild: { gaps: 0.001, stops: 0.0002, reversals: 0.0002 } };

describe('the pyramid', () => {
  test('equals a walk over every sample, in 1,000 random cells of all levels', () => {
    const random = randomFrom(SEED);
    const met = new Map<number, number>();
    for (const course of Object.values(COURSES)) {
      const blocks = channelOf(random, 20, course);
      const [levels, plain] = [pyramidOf(blocks), plainOf(blocks)];
      for (let trial = 0; trial < 334; trial += 1) {
        const level = 1 + Math.floor(random() * levels.length);
        const cells = levels[level - 1]!;
        const cellNo = Math.floor(random() * cells.length);
        expect(differences(cells[cellNo] ?? null, walkAddresses(plain, cellNo * spanOf(level), (cellNo + 1) * spanOf(level)))).toEqual([]);
        met.set(level, (met.get(level) ?? 0) + 1);
      }
    }
    expect([...met.keys()].sort()).toEqual([1, 2, 3, 4, 5]);
  });
});

describe('an envelope', () => {
  test('equals a walk over every sample, column by column, in 1,000 random windows', () => {
    const random = randomFrom(SEED + 1);
    const met: Record<string, number> = { exact: 0, shared: 0, gap: 0, unread: 0, finer: 0 };
    const meet = (what: string): void => { met[what] = (met[what] ?? 0) + 1; };
    for (const [name, course] of Object.entries(COURSES)) {
      const blocks = channelOf(random, 30, course);
      const [levels, plain] = [pyramidOf(blocks), plainOf(blocks)];
      const store = storeOf(blocks, levels);
      const [low, high] = [plain[0]!.position - 2_000, plain.at(-1)!.position + 2_000];
      for (let trial = 0; trial < 334; trial += 1) {
        // From a few millimetres to everything, each size as often as another.
        const length = (high - low) ** random();
        const from = low + random() * (high - low - length);
        const edges = evenEdges(from, from + length, Math.floor(300 ** random()));
        const { columns, fetches } = view(blocksAt(levels, blocks.length, from, from + length), edges, store);
        const walked = walkColumns(plain, edges);
        expect(columns.flatMap((column, index) => wrongWith(column, walked, index))).toEqual([]);
        const isCoarse = columns.some(({ sharpness }) => sharpness === 'coarse');
        if (isCoarse) expect(name).toBe('wild');
        else expect([leastOf(columns.map(({ summary }) => summary)), greatestOf(columns.map(({ summary }) => summary))]).toEqual([leastOf(walked), greatestOf(walked)]);
        columns.forEach(({ summary, sharpness }) => { meet(sharpness); if (sharpness === 'exact' && summary?.least == null) meet(summary === null ? 'gap' : 'unread'); });
        if (fetches.length > 1) meet('finer');
      }
    }
    // Every way in which a column can end was met, and cells were read finer.
    for (const way of ['exact', 'shared', 'gap', 'unread', 'finer']) expect([way, (met[way] ?? 0) > 30]).toEqual([way, true]);
  });

  test('at the finest is exact in every column', () => {
    const random = randomFrom(SEED + 2);
    const blocks = channelOf(random, 8, COURSES.usual);
    const [levels, plain] = [pyramidOf(blocks), plainOf(blocks)];
    const [low, high] = [plain[0]!.position, plain.at(-1)!.position];
    const { columns, fetches } = view({ fromBlock: 0, toBlock: 8 }, evenEdges(low, high + 1, 200), storeOf(blocks, levels));
    expect(fetches).toHaveLength(1);
    expect(columns.map(({ sharpness }) => sharpness)).toEqual(columns.map(() => 'exact'));
  });
});

describe('pipe that moves to and fro all the time', () => {
  test('is drawn coarse where reading it finer would cost too much, and hides nothing', () => {
    const random = randomFrom(SEED + 4);
    const blocks = channelOf(random, 90, COURSES.even);
    blocks.forEach(({ positions }, blockNo) => {
      positions.forEach((_, index) => { positions[index] = Math.abs(((blockNo * BLOCK_SAMPLES + index) % 500) - 250) * 4; });
    });
    const edges = evenEdges(200, 800, 10);
    const { columns, cost } = view({ fromBlock: 0, toBlock: 90 }, edges, storeOf(blocks, pyramidOf(blocks)));
    const walked = walkColumns(plainOf(blocks), edges);
    expect(columns.map(({ sharpness }) => sharpness)).toEqual(columns.map(() => 'coarse'));
    expect(columns.flatMap((column, index) => wrongWith(column, walked, index))).toEqual([]);
    expect(cost).toBeLessThanOrEqual(CELLS_PER_PIXEL * 10 + 6 * 12 + 2 * 16 + 1_024);
  });
});

/** A channel of any length, of which nothing is kept: positions rise with the address, with a gap every so often and a stop after it. */
function endless(gapEvery: number, gapMm: number, stop: number): { store: Store; positionAt: (address: number) => number } {
  const positionAt = (address: number): number => {
    const [rounds, rest] = [Math.floor(address / gapEvery), address % gapEvery];
    return rounds * (gapEvery - stop + gapMm) + Math.max(rest - stop, 0);
  };
  const at = (from: number, to: number): Samples => {
    const samples = emptySamples(2);
    samples.positions.set([positionAt(from), positionAt(to - 1)]);
    return samples;
  };
  const store: Store = {
    cell: (level, cellNo) => summarise(at(cellNo * spanOf(level), (cellNo + 1) * spanOf(level)), 0, 2, cellNo * spanOf(level)),
    block: (blockNo) => ({ ...emptySamples(BLOCK_SAMPLES), positions: Float64Array.from({ length: BLOCK_SAMPLES }, (_, index) => positionAt(blockNo * BLOCK_SAMPLES + index)) }),
  };
  return { store, positionAt };
}

describe('what a view reads', () => {
  const LENGTHS_M = [1, 10, 100, 1_000, 3_000, 10_000, 30_000, 100_000, 1_000_000];

  test.each([1, 50, 1_200, 4_000])('is bounded by its width of %i px, and the same from 1 km to 100 km', (widthPx) => {
    for (const lengthM of LENGTHS_M) {
      for (const fromBlock of [0, 1, 777_777]) {
        const { cells, raw } = planView([{ fromBlock, toBlock: fromBlock + Math.ceil((lengthM * 1_000) / BLOCK_SAMPLES) }], widthPx);
        const levelsUp = cells.reduce((top, { level }) => Math.max(top, level - 3), 0);
        expect(costOf({ cells, raw: [] })).toBeLessThanOrEqual(CELLS_PER_PIXEL * widthPx + 6 * levelsUp);
        expect(raw.length).toBeLessThanOrEqual(Math.max(2, widthPx / 16));
      }
    }
  });

  test('is every block, once and no other', () => {
    const random = randomFrom(SEED + 3);
    for (let trial = 0; trial < 1_000; trial += 1) {
      const fromBlock = Math.floor(10_000 * random());
      const toBlock = fromBlock + Math.floor(3_000 ** random());
      const { cells, raw } = planView([{ fromBlock, toBlock }], Math.ceil(200 ** random()));
      const runs = [
        ...raw.map(({ blockNo, from, to }) => [blockNo * BLOCK_SAMPLES + from, blockNo * BLOCK_SAMPLES + to]),
        ...cells.map(({ level, fromCell, toCell }) => [fromCell * spanOf(level), toCell * spanOf(level)]),
      ].sort(([a], [b]) => a! - b!);
      let at = fromBlock * BLOCK_SAMPLES;
      for (const [from, to] of runs) {
        expect(from).toBe(at);
        at = to!;
      }
      expect(at).toBe(toBlock * BLOCK_SAMPLES);
    }
  });

  test.each([
    ['even pipe', endless(1e12, 0, 0)], ['a gap of 5 m and a stop every 100 m', endless(100_000, 5_000, 8_000)], ['gaps everywhere', endless(300, 2_000, 20)],
  ])('with all that is read finer is bounded by its width, on %s', (_, { store, positionAt }) => {
    for (const lengthM of LENGTHS_M.filter((length) => length <= 100_000)) {
      for (const widthPx of [10, 1_200]) {
        const run = { fromBlock: 1_234, toBlock: 1_234 + Math.ceil((lengthM * 1_000) / BLOCK_SAMPLES) };
        const edges = evenEdges(positionAt(run.fromBlock * BLOCK_SAMPLES) + 100, positionAt(run.toBlock * BLOCK_SAMPLES) - 100, widthPx);
        const { cost, fetches, columns } = view(run, edges, store);
        expect(cost).toBeLessThanOrEqual(CELLS_PER_PIXEL * widthPx + 6 * 12 + Math.max(2 * 16, widthPx) + Math.max(CELLS_PER_PIXEL * widthPx, 1_024));
        expect(fetches.length).toBeLessThanOrEqual(12);
        expect(columns).toHaveLength(widthPx);
      }
    }
  });
});
