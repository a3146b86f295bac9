import { describe, expect, test } from '@jest/globals';
import type { EvidenceState } from '#libs/evidence';
import { interval, IntervalSet } from '#libs/intervals';
import type { FrozenLine } from '../releases/frozen-evidence.js';
import { isHeld, releaseGround, releaseStatement, type OpenForRelease, type PipeToRelease } from './release-ground.js';
import { notOpen } from './release-proposals.service.js';

const line = (code: string, ...stretches: readonly (readonly [state: EvidenceState, fromMm: number, toMm: number, because?: string])[]): FrozenLine => ({
  key: `${code} plan`, code, stretches: stretches.map(([state, fromMm, toMm], nth) => ({ fromMm, toMm, state, late: false, otherwise: null, by: [nth] })),
  testimonies: stretches.map(([state, , , because = state]) => ({ says: 'confirmed', because, records: [] })),
});
const PIPE: PipeToRelease = { fromMm: 0, toMm: 1_000, pipe: IntervalSet.of(interval(0, 1_000)), unplanned: IntervalSet.empty, madeMm: 1_000 };
const shown = ({ code, state, on }: OpenForRelease): string => `${code} ${state} ${on.toMultirange()}`;
const ground = (lines: readonly FrozenLine[], changes: Partial<PipeToRelease> = {}) => releaseGround({ lines }, { ...PIPE, ...changes });

describe('what stands against a release', () => {
  test('is what failed anywhere on its pipe; what is only not shown needs a reason, with all the pipe that it is not shown on', () => {
    const { against, toExcept, nothing } = ground([
      line('A', ['confirmed', 0, 1_000]), line('B', ['failed', 0, 10], ['missing', 10, 1_000]), line('C', ['provisional', 0, 300], ['suspect', 300, 400], ['conceded', 400, 1_000]), line('D', ['not-required', 0, 1_000]),
    ]);
    expect([against.map(shown), toExcept.map(shown), nothing]).toEqual([['B failed {[0,1000)}'], ['C suspect {[0,400)}'], null]);
  });

  test('is told with each word once, and twenty at most', () => {
    const stretches = Array.from({ length: 30 }, (_, nth) => ['missing', nth * 10, nth * 10 + 10, `word ${Math.floor(nth / 2)}`] as const);
    expect(ground([line('A', ...stretches)]).toExcept[0]?.because).toEqual(Array.from({ length: 15 }, (_, nth) => `word ${nth}`));
    const more = Array.from({ length: 30 }, (_, nth) => ['missing', nth * 10, nth * 10 + 10, `word ${nth}`] as const);
    expect(ground([line('A', ...more)]).toExcept[0]?.because).toHaveLength(20);
  });

  test('is one item where two revisions of a plan have its code, by the worse of both', () => {
    const { against, toExcept } = ground([line('A', ['provisional', 0, 500]), line('A', ['missing', 500, 1_000])]);
    expect([against, toExcept.map(shown)]).toEqual([[], ['A missing {[0,1000)}']]);
    expect(ground([line('A', ['provisional', 0, 500]), line('A', ['failed', 500, 1_000])]).against.map(shown)).toEqual(['A failed {[0,1000)}']);
  });

  test('is a hold before all else', () => {
    const { against } = ground([line('A', ['failed', 0, 5]), line('hold', ['failed', 500, 600])]);
    expect(against.map(isHeld)).toEqual([false, true]);
    expect(notOpen({ nothing: null, toExcept: [], against })).toBe('a hold stands on it: lift it first');
    expect(notOpen(ground([line('A', ['failed', 0, 5]), line('B', ['failed', 0, 5])]))).toMatch(/^failed: A, B; /);
    expect(notOpen(ground([line('A', ['missing', 0, 5])]))).toBeNull();
  });

  test('is that there is nothing to release: no pipe, not made yet, or under no plan', () => {
    expect(notOpen(ground([], { pipe: IntervalSet.empty }))).toBe('no pipe of that footage was made and not cut out');
    expect(notOpen(ground([], { madeMm: 999 }))).toBe('pipe was made up to 999 mm only');
    expect(notOpen(ground([], { unplanned: IntervalSet.of(interval(999, 1_000)) }))).toMatch(/^no control plan holds for all of it/);
  });
});

test('the sentence of a release says what is released, and how many exceptions there are', () => {
  const sentence = (exceptions: number): string => releaseStatement('Lindmoor 2 main string', { fromMm: 0, toMm: 12_345 }, exceptions);
  expect(sentence(0)).toBe('I have examined the evidence of footage 0.000 to 12.345 m of Lindmoor 2 main string and release this pipe for the well.');
  expect(sentence(1)).toMatch(/for the well, with 1 exception that I answer for\.$/);
  expect(sentence(2)).toMatch(/for the well, with 2 exceptions that I answer for\.$/);
});
