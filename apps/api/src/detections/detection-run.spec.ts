import { describe, expect, test } from '@jest/globals';
import type { SampleBlock } from '#libs/indications';
import { interval, IntervalSet } from '#libs/intervals';
import type { SignalStroke } from '../signals/signal-strokes.service.js';
import { detect, MOST_PARTS, TooMuchFound, type LookedChannel, type Putting } from './detection-run.js';
import { digitsOf, packed, unpacked } from './found-place.js';
import { partsOf, SpokenPipe, withoutValues } from './stroke-signals.js';

/** One sample a millimetre; null is missing. */
const signal = (fromMm: number, values: readonly (number | null)[]): SampleBlock => ({
  positionsMm: Int32Array.from(values, (_value, index) => fromMm + index), values: Float32Array.from(values, (value) => value ?? Number.NaN), bounds: null,
});
/** 20 mm of quiet signal with 60 where it says so. */
const loud = (fromMm: number, ...at: readonly number[]): SampleBlock => signal(fromMm, Array.from({ length: 20 }, (_, index) => (at.includes(fromMm + index) ? 60 : 10)));

async function* each<T>(...things: readonly T[]): AsyncIterable<T> {
  for (const thing of things) yield await Promise.resolve(thing);
}
const stroke = (runId: string, fromUs: number, ...blocks: readonly SampleBlock[]): SignalStroke => ({ runId, fromUs, toUs: fromUs + 1, backward: false, blocks: each(...blocks) });

const NOTHING = { excluded: IntervalSet.empty, notValid: IntervalSet.empty };
const looked = (strokes: () => readonly SignalStroke[], changes: Partial<LookedChannel> = {}): LookedChannel => ({
  channelId: 'A', rule: { sense: 'above', threshold: 50, release: 30, minimumLengthMm: 0, combiningMm: 0, bridgedGapMm: 0 }, speaksForMm: 1, apartOf: () => NOTHING,
  strokes: () => Promise.resolve(strokes()), ...changes,
});
const APART: Putting = { jointMm: null, repeats: 'all' };
const spans = ({ found }: Awaited<ReturnType<typeof detect>>): number[][] => found.map(({ fromMm, toMm, parts }) => [fromMm, toMm, parts.length]);

describe('a detection', () => {
  test('finds, tells of each stroke what it saw, and stays the same however the signal is cut into blocks', async () => {
    const { saw, found } = await detect([looked(() => [stroke('r', 5_000_000, loud(100, 105, 106, 119), signal(120, [60, 10, null]))])], APART);
    const part = { channel: 0, stroke: 0, begins: 'signal', ends: 'signal', peak: '60', isBound: false, samples: 2, runs: 1, missingMm: 0 };
    expect(found).toEqual([
      { fromMm: 105, toMm: 107, parts: [{ ...part, fromMm: 105, toMm: 107, peakMm: 105 }] }, { fromMm: 119, toMm: 121, parts: [{ ...part, fromMm: 119, toMm: 121, peakMm: 119 }] },
    ]);
    expect(saw).toEqual([{
      channelId: 'A', runId: 'r', startedAt: '1970-01-01T00:00:05.000000Z', endedAt: '1970-01-01T00:00:05.000001Z', backward: false, speaksForMm: 1, looked: { fromMm: 100, toMm: 123 },
      samples: 23, missingSamples: 1, saturatedSamples: 0, readAgain: 0, excludedSamples: 0, excludedAtThreshold: 0, gapMm: 1, tooShort: 0,
    }]);
  });

  test('makes one indication of what several strokes of a channel show at a place, and of several channels only where the rule says so', async () => {
    const strokes = () => [stroke('r', 0, loud(0, 5)), stroke('r', 9, loud(0, 5, 6))];
    expect(spans(await detect([looked(strokes), looked(strokes)], APART))).toEqual([[5, 7, 2], [5, 7, 2]]);
    expect(spans(await detect([looked(strokes), looked(strokes)], { ...APART, jointMm: 0 }))).toEqual([[5, 7, 4]]);
    expect(spans(await detect([looked(() => [stroke('r', 0, loud(0, 5))]), looked(() => [stroke('r', 0, loud(0, 8))])], { ...APART, jointMm: 3 }))).toEqual([[5, 9, 2]]);
  });

  test('takes the latest reading that is not missing where the rule says so', async () => {
    // The second stroke reads 10 to 20 again, but for 14 and 15; what was there before counts no more, but for these.
    const again = signal(10, [10, 10, 10, 10, null, null, 10, 10, 60, 60]);
    const channel = looked(() => [stroke('r', 0, loud(0, 9, 12, 14)), stroke('r', 9, again)]);
    expect(spans(await detect([channel], APART))).toEqual([[9, 10, 1], [12, 13, 1], [14, 15, 1], [18, 20, 1]]);
    const { saw, ...latest } = await detect([channel], { ...APART, repeats: 'latest' });
    expect(spans({ saw, ...latest })).toEqual([[9, 10, 1], [14, 15, 1], [18, 20, 1]]);
    expect(saw.map(({ samples, readAgain }) => [samples, readAgain])).toEqual([[20, 8], [10, 0]]);
  });

  test('tells how long its gaps are together, over blocks and where pipe was read again', async () => {
    const strokes = () => [stroke('r', 0, signal(0, [10, null, 10, null]), signal(4, [10, null, null, 10, 10, null, 10])), stroke('r', 9, signal(7, [10, 10]))];
    const gaps = async (repeats: Putting['repeats']): Promise<number[]> => (await detect([looked(strokes)], { ...APART, repeats })).saw.map(({ gapMm }) => gapMm);
    expect([await gaps('all'), await gaps('latest')]).toEqual([[5, 0], [5, 0]]);
  });

  test('puts together what was cut where two uploads meet, in whatever order they came', async () => {
    const channel = looked(() => [stroke('r', 9, signal(20, [60, 60, 10])), stroke('r', 0, loud(0, 18, 19))]);
    const { saw, found } = await detect([channel], APART);
    expect(found).toMatchObject([{ fromMm: 18, toMm: 22, parts: [{ stroke: 0, ends: 'end-of-data' }, { stroke: 1, begins: 'end-of-data' }] }]);
    expect(saw.map(({ looked: pipe }) => pipe)).toEqual([{ fromMm: 0, toMm: 20 }, { fromMm: 20, toMm: 23 }]);
  });

  test('puts together again what was cut where a later stroke took over', async () => {
    const channel = looked(() => [stroke('r', 0, loud(0, 8, 9, 10, 11)), stroke('r', 9, signal(10, [60, 60, 10]))]);
    expect(spans(await detect([channel], { ...APART, repeats: 'latest' }))).toEqual([[8, 12, 2]]);
  });

  test('cuts to the millimetre, however far a sample speaks', async () => {
    const again = signal(10, [10, 10, null, null, null, 10, 10]);
    const channel = looked(() => [stroke('r', 0, loud(0, 11, 12, 13, 14, 15)), stroke('r', 9, again)], { speaksForMm: 3 });
    const { saw, found } = await detect([channel], { ...APART, repeats: 'latest' });
    expect([found.map(({ fromMm, toMm }) => [fromMm, toMm]), saw[0]?.readAgain]).toEqual([[[12, 15]], 6]);
  });

  test('lets the earlier reading count where the later one was left out or not valid', async () => {
    const strokes = () => [stroke('first', 0, loud(0, 5)), stroke('second', 9, loud(0, 7))];
    const apart = { excluded: IntervalSet.of(interval(0, 6)), notValid: IntervalSet.of(interval(6, 20)) };
    const channel = looked(strokes, { apartOf: (runId) => (runId === 'second' ? apart : NOTHING) });
    expect(spans(await detect([channel], { ...APART, repeats: 'latest' }))).toEqual([[5, 6, 1]]);
  });

  test('leaves out what is excluded, and takes what is not valid as missing: it ends indications and is told', async () => {
    const apart = { excluded: IntervalSet.of(interval(4, 6)), notValid: IntervalSet.of(interval(5, 8)) };
    const { saw, found } = await detect([looked(() => [stroke('r', 0, loud(0, 3, 4, 5, 8))], { apartOf: () => apart })], APART);
    expect(found.map(({ parts: [part] }) => [part?.fromMm, part?.begins, part?.ends])).toEqual([[3, 'signal', 'exclusion'], [8, 'gap', 'signal']]);
    expect(saw).toMatchObject([{ samples: 20, missingSamples: 2, excludedSamples: 2, excludedAtThreshold: 2, gapMm: 2 }]);
  });

  test('stops where there is more to find than it keeps', async () => {
    const noise = Array.from({ length: 2 * MOST_PARTS + 2 }, (_, index) => (index % 2 === 0 ? 60 : 10));
    await expect(detect([looked(() => [stroke('r', 0, signal(0, noise))])], APART)).rejects.toThrow(TooMuchFound);
    expect((await detect([looked(() => [stroke('r', 0, signal(0, noise.slice(2)))])], APART)).found).toHaveLength(MOST_PARTS);
  });
});

describe('parts of a block', () => {
  const block = signal(0, [1, 2, 3, 4, 5, 6]);

  test('are cut where footage goes into an interval or out of one', () => {
    expect(partsOf(block, [interval(-5, 0), interval(2, 4), interval(4, 5), interval(9, 10)])).toEqual([
      { inside: -1, from: 0, to: 2 }, { inside: 1, from: 2, to: 4 }, { inside: 2, from: 4, to: 5 }, { inside: -1, from: 5, to: 6 },
    ]);
    expect(partsOf(block, [])).toEqual([{ inside: -1, from: 0, to: 6 }]);
  });

  test('lose their values in pipe that is not valid, in a copy', () => {
    expect(withoutValues(block, IntervalSet.of(interval(9, 10)))).toBe(block);
    expect([...withoutValues(block, IntervalSet.of(interval(1, 3))).values]).toEqual([1, NaN, NaN, 4, 5, 6]);
    expect([...block.values]).toEqual([1, 2, 3, 4, 5, 6]);
  });

  test('speak up to the next sample, at most as far as one speaks; missing ones not at all', () => {
    const spoken = new SpokenPipe(2);
    spoken.add(signal(0, [1, null, 1, null, null, 1]));
    spoken.add(signal(20, [null]));
    // Two samples at one millimetre, as a line that stands gives them: the good one speaks.
    spoken.add({ positionsMm: Int32Array.of(30, 30, 32), values: Float32Array.of(1, NaN, 1), bounds: null });
    expect(spoken.pipe().toMultirange()).toBe('{[0,1),[2,3),[5,7),[30,31),[32,34)}');
    expect(new SpokenPipe(2).pipe().isEmpty).toBe(true);
  });
});

test('a value is written with the fewest digits that mean it, in its precision', () => {
  expect([78.4, 0.1, 100, -4.61].map((value) => digitsOf(Math.fround(value)))).toEqual(['78.4', '0.1', '100', '-4.61']);
  expect([digitsOf(78.4), digitsOf(1 / 3), digitsOf(0.5)]).toEqual(['78.4', '0.333333333', '0.5']);
});

test('places come out of their packing as they went in', () => {
  const part = { channel: 1, stroke: 2, fromMm: 3, toMm: 9, begins: 'gap', ends: 'end-of-data', peak: '60.5', peakMm: 4, isBound: true, samples: 5, runs: 6, missingMm: 7 } as const;
  const place = { fromMm: 3, toMm: 9, parts: [part, { ...part, isBound: false, begins: 'signal', ends: 'exclusion' } as const], indicationId: 'i', standing: ['a', 'b'] };
  expect(unpacked(packed(place))).toEqual(place);
  expect(() => unpacked([0, 1, null, [], [[0, 0, 0, 1, 4, 0, '1', 0, 0, 1, 1, 0]]])).toThrow(new RangeError('there is no edge 4'));
});
