import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { blocksToRead, implausibleWindows, offSeamWindows, quietWindows, RunWatch, saturatedWindows, TooManyRuns, usualNoise, windowsOf, type FoundRuns, type WatchedCell, type WindowFinding } from '#libs/channel-watch';
import { cellsOfBlock, CELLS_IN_BLOCK, STATUS, STATUS_NAMES, type Samples, type StatusName } from '#libs/signals';
import { emptySamples, randomFrom } from '../fixtures/signals.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { plainIdentical, plainMissing, plainNamed, plainWindows, type PlainReading, type PlainRun } from './channel-watch.reference.js';

const RUNS = 1_000;

interface Event {
  readonly at: number;
  readonly samples: number;
  readonly kind: 'same' | 'missing' | 'quiet' | 'saturatedHigh' | 'saturatedLow' | 'implausible';
}

interface Case {
  readonly seed: number;
  readonly lengths: readonly number[];
  /** Parts of so many blocks each. */
  readonly blocksInPart: number;
  readonly backward: boolean;
  readonly steps: number;
  readonly events: readonly Event[];
  readonly stuckAfter: number;
  readonly marks: boolean;
  readonly windowMm: number;
}

const cases: fc.Arbitrary<Case> = fc.record({
  seed: fc.nat(), lengths: fc.array(fc.constantFrom(1, 3, 40, 200, 255, 256, 257, 600, 1_300, 4_096), { minLength: 1, maxLength: 6 }), blocksInPart: fc.integer({ min: 1, max: 3 }),
  backward: fc.boolean(), steps: fc.constantFrom(3, 40, 100_000),
  events: fc.array(fc.record({
    at: fc.nat({ max: 1_500 }), samples: fc.constantFrom(1, 5, 20, 90, 256, 300, 700, 1_500),
    kind: fc.constantFrom<Event['kind']>('same', 'same', 'same', 'missing', 'missing', 'quiet', 'saturatedHigh', 'saturatedLow', 'implausible'),
  }), { maxLength: 8 }),
  stuckAfter: fc.constantFrom(2, 5, 20, 60, 300, 600), marks: fc.boolean(), windowMm: fc.constantFrom(1, 100, 256, 500, 1_000),
});

/** What the samples of a channel are: noise of few or many different values, and what happens along it; marked part by part as they come in. */
function signalOf({ seed, lengths, blocksInPart, backward, steps, events, stuckAfter, marks }: Case): Samples[] {
  const random = randomFrom(seed);
  const total = lengths.reduce((sum, one) => sum + one, 0);
  const whole = emptySamples(total);
  for (let index = 0; index < total; index += 1) {
    whole.positions[index] = backward ? 10_000 + total - index : 10_000 + index;
    whole.values[index] = 5 + Math.floor(random() * steps) / steps;
  }
  for (const { at, samples, kind } of events) {
    for (let index = at; index < Math.min(at + samples, total); index += 1) {
      if (kind === 'same') whole.values[index] = 5.25;
      else if (kind === 'quiet') whole.values[index] = 5.5 + (whole.values[index]! - 5.5) / 50;
      else whole.statuses[index] = STATUS[kind];
    }
  }
  const blocks: Samples[] = [];
  let from = 0;
  for (const length of lengths) {
    blocks.push({ positions: whole.positions.slice(from, from + length), values: whole.values.slice(from, from + length), statuses: whole.statuses.slice(from, from + length) });
    from += length;
  }
  if (marks) for (let part = 0; part < blocks.length; part += blocksInPart) markStuck(blocks.slice(part, part + blocksInPart), stuckAfter);
  return blocks;
}

/** As a part is read: runs within it, over its blocks. */
function markStuck(blocks: readonly Samples[], stuckAfter: number): void {
  const all = blocks.flatMap((block) => Array.from(block.values, (_, index) => ({ block, index })));
  const isRead = ({ block, index }: (typeof all)[number]): boolean => block.statuses[index] === STATUS.read;
  for (let began = 0; began < all.length;) {
    const first = all[began]!;
    let end = began + 1;
    while (end < all.length && isRead(all[end]!) && isRead(first) && all[end]!.block.values[all[end]!.index] === first.block.values[first.index]) end += 1;
    if (end - began >= stuckAfter) for (const { block, index } of all.slice(began, end)) block.statuses[index] = STATUS.suspectStuck;
    began = end;
  }
}

const cellsOf = (blocks: readonly Samples[]): WatchedCell[] => blocks.flatMap((samples, blockNo) => cellsOfBlock(samples, blockNo).flatMap((summary, index) =>
  (summary === null ? [] : [{ cellNo: blockNo * CELLS_IN_BLOCK + index, fromMm: summary.fromPosition, toMm: summary.toPosition + 1, summary }])));

function watched(blocks: readonly Samples[], { stuckAfter, marks }: Pick<Case, 'stuckAfter' | 'marks'>): { readonly found: FoundRuns; readonly read: number } {
  const cells = cellsOf(blocks);
  const read = new Set(blocksToRead(cells, { stuckAfter, isMarkedWithin: marks }));
  const watch = new RunWatch({ stuckAfter });
  blocks.forEach((samples, no) => {
    if (read.has(no)) watch.samples(no, samples);
    else watch.cells(no, cells.filter(({ cellNo }) => Math.floor(cellNo / CELLS_IN_BLOCK) === no));
  });
  return { found: watch.end(), read: read.size };
}

const plain = ({ positions, values, statuses }: Samples): PlainReading[] =>
  Array.from(values, (value, index) => ({ at: positions[index]!, value, status: STATUS_NAMES[statuses[index]!] as StatusName }));
const asPlain = (runs: FoundRuns['missing']): PlainRun[] => runs.map(({ samples, firstPosition, lastPosition }) => ({ samples, from: firstPosition, to: lastPosition }));
const groupsOf = (blocks: readonly Samples[]): PlainReading[][] => blocks.flatMap((samples) => {
  const all = plain(samples);
  return Array.from({ length: Math.ceil(all.length / 256) }, (_, cell) => all.slice(cell * 256, (cell + 1) * 256));
});
const places = (found: readonly WindowFinding[]): unknown[] => found.map(({ fromMm, toMm }) => ({ from: fromMm, to: toMm }));
/** Between any two figures that a signal gives: rounding must not decide. */
const isClear = (noises: readonly (number | null)[], limit: number): boolean => noises.every((noise) => noise === null || Math.abs(noise - limit) > 1e-9);

describe('the watch over a channel', () => {
  test('finds every run of missing samples and of identical readings, over parts and blocks, by reading only what its cells leave open', () => {
    const reached = { missing: 0, identical: 0, overParts: 0, spared: 0 };
    fc.assert(fc.property(cases, (one) => {
      const blocks = signalOf(one);
      const { found, read } = watched(blocks, one);
      const readings = blocks.flatMap(plain);
      expect(asPlain(found.missing)).toEqual(plainMissing(readings));
      expect(asPlain(found.identical)).toEqual(plainIdentical(readings, one.stuckAfter));
      reached.missing += found.missing.length;
      reached.identical += found.identical.length;
      reached.overParts += found.identical.filter(({ firstBlock, lastBlock }) => Math.floor(firstBlock / one.blocksInPart) !== Math.floor(lastBlock / one.blocksInPart)).length;
      reached.spared += blocks.length - read;
    }), { numRuns: RUNS, ...seedFromEnvironment() });
    expect(Object.entries(reached).filter(([name, count]) => count < (name === 'overParts' ? 20 : 100))).toEqual([]);
  });

  test('judges windows as the samples themselves do', () => {
    const reached = { quiet: 0, implausible: 0, saturated: 0, offSeam: 0 };
    fc.assert(fc.property(cases, (one) => {
      const blocks = signalOf(one);
      const windows = windowsOf(cellsOf(blocks), one.windowMm);
      const reference = plainWindows(groupsOf(blocks), one.windowMm);
      expect(windows.map(({ fromMm, toMm }) => ({ fromMm, toMm }))).toEqual(reference.map(({ from, to }) => ({ fromMm: from, toMm: to })));
      const noises = reference.map(({ noise }) => noise);
      expect(windows.map(({ noise }) => noise === null)).toEqual(noises.map((noise) => noise === null));
      const quiet = quietWindows(windows, 0.1);
      fc.pre(isClear(noises, 0.1));
      expect(places(quiet)).toEqual(plainNamed(reference, ({ noise }) => noise !== null && noise < 0.1));
      expect(places(implausibleWindows(windows, 0.1))).toEqual(plainNamed(reference, ({ implausible }) => implausible > 0.1));
      expect(places(saturatedWindows(windows, 0.1))).toEqual(plainNamed(reference, ({ saturated }) => saturated > 0.1));
      const known = noises.filter((noise) => noise !== null).sort((a, b) => a - b);
      const usual = usualNoise(windows);
      expect(usual !== null).toBe(known.length >= 8);
      if (usual !== null) {
        expect(usual).toBeCloseTo(known[Math.ceil(known.length / 2) - 1]!, 9);
        fc.pre(isClear(noises, usual / 2));
        const found = offSeamWindows(windows, usual, 0.5);
        expect(places(found)).toEqual(plainNamed(reference, ({ noise }) => noise !== null && noise < usual / 2));
        reached.offSeam += found.length;
      }
      reached.quiet += quiet.length;
      reached.implausible += implausibleWindows(windows, 0.1).length;
      reached.saturated += saturatedWindows(windows, 0.1).length;
    }), { numRuns: RUNS, ...seedFromEnvironment() });
    expect(Object.entries(reached).filter(([, count]) => count < 20)).toEqual([]);
  });

  test('reads less than a quarter of the blocks of noise for runs of 400, and fewer where runs within a part are marked', () => {
    const lengths = Array.from({ length: 100 }, () => 4_096);
    const blocks = signalOf({ seed: 7, lengths, blocksInPart: 100, backward: false, steps: 100_000, events: [], stuckAfter: 400, marks: false, windowMm: 1_000 });
    expect(watched(blocks, { stuckAfter: 400, marks: false }).read).toBeLessThan(25);
    expect(watched(blocks, { stuckAfter: 400, marks: true }).read).toBeLessThan(8);
  });

  test('finds a run over the end of a part of which neither side is long enough, however many cells it goes on in the next', () => {
    const one: Case = {
      seed: 3, lengths: [4_096, 4_096], blocksInPart: 1, backward: false, steps: 100_000, events: [{ at: 3_896, samples: 790, kind: 'same' }], stuckAfter: 600, marks: true, windowMm: 1_000,
    };
    expect(asPlain(watched(signalOf(one), one).found.identical)).toEqual([{ samples: 790, from: 13_896, to: 14_685 }]);
  });

  test('keeps the runs that are asked for, and no more of them than so many', () => {
    const events = [10, 20, 30].map((at, index) => ({ at, samples: index + 1, kind: 'missing' as const }));
    const [samples] = signalOf({ seed: 1, lengths: [256], blocksInPart: 1, backward: false, steps: 100_000, events, stuckAfter: 2, marks: false, windowMm: 1 });
    const kept = (least: number, most: number): number[] => {
      const watch = new RunWatch({ stuckAfter: null }, { keeps: ({ samples: own }) => own >= least, most });
      watch.samples(0, samples!);
      return watch.end().missing.map(({ samples: own }) => own);
    };
    expect([kept(1, 3), kept(2, 2), kept(4, 0)]).toEqual([[1, 2, 3], [2, 3], []]);
    expect(() => kept(1, 2)).toThrow(TooManyRuns);
  });

  test('takes no run for whole that a cell only begins: a cell whose missing samples are not all is for its samples to tell', () => {
    const blocks = signalOf({ seed: 1, lengths: [256], blocksInPart: 1, backward: false, steps: 40, events: [{ at: 10, samples: 3, kind: 'missing' }], stuckAfter: 2, marks: false, windowMm: 1 });
    expect(() => { new RunWatch({ stuckAfter: null }).cells(0, cellsOf(blocks)); }).toThrow(RangeError);
    expect(() => windowsOf([], 0)).toThrow(RangeError);
  });
});
