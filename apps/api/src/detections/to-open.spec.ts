import { describe, expect, test } from '@jest/globals';
import type { FoundPart, FoundPlace } from './found-place.js';
import { settled, worstPart, type Standing } from './to-open.js';

const part = (channel: number, fromMm: number, toMm: number, peak = '60', stroke = 0): FoundPart => ({
  channel, stroke, fromMm, toMm, begins: 'signal', ends: 'signal', peak, peakMm: fromMm, isBound: false, samples: 1, runs: 1, missingMm: 0,
});
const place = (...parts: FoundPart[]): FoundPlace => ({ fromMm: Math.min(...parts.map(({ fromMm }) => fromMm)), toMm: Math.max(...parts.map(({ toMm }) => toMm)), parts });
const stands = (id: string, fromMm: number, toMm: number, ...channelIds: string[]): Standing => ({ id, channelIds, span: { fromMm, toMm }, settledAt: null });
/** The strokes, by when they began. */
const SAW = ['06:00', '07:00'].map((clock) => ({ startedAt: `2026-03-02T${clock}:00.000000Z` }));

/** Which are opened, beside which that stand. */
function opened(found: readonly FoundPlace[], standing: readonly Standing[]): (readonly [string | null, readonly string[]])[] {
  let made = 0;
  const places = settled(found, SAW, standing, ['A', 'B'], () => `new ${(made += 1)}`);
  return places.map(({ indicationId, standing: ids }) => [indicationId, ids]);
}

describe('what is found', () => {
  test('is opened where nothing of its channel stands, or what stands covers it in part only', () => {
    const found = [place(part(0, 10, 20)), place(part(0, 30, 40)), place(part(0, 50, 60))];
    const standing = [stands('of B', 10, 20, 'B'), stands('half', 35, 40, 'A'), stands('whole', 45, 60, 'A', 'B')];
    expect(opened(found, standing)).toEqual([['new 1', []], ['new 2', ['half']], [null, ['whole']]]);
  });

  test('is covered by several together, however long and in whatever order they come', () => {
    const standing = [stands('late', 15, 20, 'A'), stands('long', 0, 12, 'A'), stands('short', 3, 4, 'A'), stands('mid', 12, 15, 'A')];
    expect(opened([place(part(0, 10, 20))], standing)).toEqual([[null, ['long', 'mid', 'late']]]);
  });

  test('by several channels is covered where each of them is', () => {
    const both = place(part(0, 10, 20), part(1, 15, 30));
    expect(opened([both], [stands('a', 10, 20, 'A')])).toEqual([['new 1', ['a']]]);
    expect(opened([both], [stands('a', 10, 20, 'A'), stands('b', 15, 30, 'B')])).toEqual([[null, ['a', 'b']]]);
  });

  test('is opened for a millimetre that nothing covers', () => {
    expect(opened([place(part(0, 10, 20))], [stands('a', 0, 19, 'A')])).toEqual([['new 1', ['a']]]);
    expect(opened([place(part(0, 10, 20))], [stands('a', 11, 30, 'A'), stands('b', 0, 10, 'A')])).toEqual([['new 1', ['a']]]);
    expect(opened([place(part(0, 10, 20))], [stands('a', 10, 20, 'A')])).toEqual([[null, ['a']]]);
  });

  test('is opened where it was read after an evaluation had settled what stands there, and not where it was read before', () => {
    const settledAt = (clock: string): Standing => ({ ...stands('a', 10, 20, 'A'), settledAt: `2026-03-02T${clock}:00.000000Z` });
    const [first, again] = [part(0, 10, 20), part(0, 10, 20, '60', 1)];
    expect(opened([place(first)], [settledAt('06:30')])).toEqual([[null, ['a']]]);
    expect(opened([place(first, again)], [settledAt('06:30')])).toEqual([['new 1', ['a']]]);
    expect(opened([place(first, again)], [settledAt('06:30'), stands('b', 10, 20, 'A')])).toEqual([[null, ['a', 'b']]]);
    expect(opened([place(first, again)], [settledAt('07:00')])).toEqual([[null, ['a']]]);
    expect(opened([place(first, again)], [stands('a', 10, 20, 'A')])).toEqual([[null, ['a']]]);
  });
});

test('the worst part lies farthest beyond its threshold, by its share of it', () => {
  const channels = [{ threshold: '50' }, { threshold: '4.6' }, { threshold: '0' }];
  expect(worstPart([part(0, 0, 1, '60'), part(1, 0, 1, '3.0')], channels)?.channel).toBe(1);
  expect(worstPart([part(0, 0, 1, '60'), part(0, 5, 6, '90'), part(1, 0, 1, '3.0')], channels)).toMatchObject({ channel: 0, fromMm: 5 });
  expect(worstPart([part(2, 0, 1, '-2'), part(0, 0, 1, '60')], channels)?.channel).toBe(2);
  expect(worstPart([], channels)).toBeUndefined();
});
