import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { openOfExamination, openSteps, weldsOutside } from './open-work.rules.js';

const at = (hour: number): string => `2026-03-02T0${hour}:00:00.000000Z`;

describe('an examination', () => {
  const looked = (hour: number, outcome: 'accepted' | 'held' | 'rejected', fromMm: number, toMm: number, method: 'UT' | 'RT' = 'UT') =>
    ({ method, outcome, on: IntervalSet.from([{ fromMm, toMm }]), atUs: hour });
  const openOf = (...all: ReturnType<typeof looked>[]): string => openOfExamination(all[0]!, all).toMultirange();

  test('that was held or rejected is open until its method accepted the place later', () => {
    expect([openOf(looked(5, 'held', 0, 100)), openOf(looked(5, 'rejected', 0, 100)), openOf(looked(5, 'accepted', 0, 100))]).toEqual(['{[0,100)}', '{[0,100)}', '{}']);
    const rejected = looked(5, 'rejected', 0, 100);
    expect(openOf(rejected, looked(6, 'accepted', 0, 60), looked(7, 'accepted', 60, 200))).toBe('{}');
    expect(openOf(rejected, looked(6, 'accepted', 20, 60))).toBe('{[0,20),[60,100)}');
  });

  test('is not settled by an earlier one, one of that instant, another method, or one that was held', () => {
    for (const other of [looked(4, 'accepted', 0, 100), looked(5, 'accepted', 0, 100), looked(6, 'accepted', 0, 100, 'RT'), looked(6, 'held', 0, 100)]) {
      expect(openOf(looked(5, 'rejected', 0, 100), other)).toBe('{[0,100)}');
    }
  });
});

test('a step is open while it is the last of its splice, stage and station and was not accepted', () => {
  const step = (id: string, hour: number, outcome: 'accepted' | 'held' | 'rejected', station: string | null = null, spliceId = 's') =>
    ({ id, spliceId, stage: station === null ? 'after-forming' : 'station-sighting', station, outcome, observedAt: at(hour) }) as const;
  const open = (...steps: ReturnType<typeof step>[]): string[] => openSteps(steps).map(({ id }) => id);
  expect(open(step('a', 5, 'held'))).toEqual(['a']);
  expect(open(step('a', 5, 'held'), step('b', 6, 'rejected'))).toEqual(['b']);
  expect(open(step('b', 6, 'accepted'), step('a', 5, 'held'))).toEqual([]);
  expect(open(step('a', 5, 'held'), step('b', 5, 'accepted'))).toEqual(['a']);
  expect(open(step('a', 5, 'held', 'gauge'), step('b', 6, 'accepted', 'hang-off'), step('c', 6, 'accepted', 'gauge', 't'), step('d', 6, 'accepted'))).toEqual(['a']);
});

test('a weld outside its procedure is open until it is welded again', () => {
  const weld = (id: string, hour: number, kind: string | null, rejoinId: string | null = null) => ({
    id, spliceId: rejoinId === null ? 's' : null, rejoinId, observedAt: at(hour),
    marks: kind === null ? [] : [{ kind, field: 'readings[0].printed', value: '215', limit: 'power 160 to 200 kW' }],
  }) as unknown as Parameters<typeof weldsOutside>[0][number] & { id: string };
  const open = (...welds: ReturnType<typeof weld>[]): [string, string][] => weldsOutside(welds).map(({ weld: { id }, words }) => [id, words]);
  expect(open(weld('a', 5, 'out-of-specification'))).toEqual([['a', 'outside its procedure: 215, power 160 to 200 kW']]);
  expect(open(weld('a', 5, 'noted'), weld('b', 5, null))).toEqual([]);
  expect(open(weld('a', 5, 'out-of-specification'), weld('b', 6, null))).toEqual([]);
  expect(open(weld('a', 5, 'out-of-specification'), weld('b', 6, null, 'r'), weld('c', 4, null))).toMatchObject([['a', expect.anything()]]);
});
