import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { netLengthMap } from '#libs/length';
import { aCutOut } from '../../../../test/fixtures/string-lengths.js';
import type { PlanException, PlanScope } from '../control-plans/control-plan-item.js';
import { demandedPipe, plannedPipe, type PlannedGround } from './demanded-pipe.js';

/** 10 m made, of which 4 to 4.5 m were cut out; a splice at 2 to 2.3 m. */
const CUT = interval(4_000, 4_500);
const cutOut = IntervalSet.of(CUT);
const pipe = IntervalSet.of(interval(0, 10_000)).subtract(cutOut);
const ground: PlannedGround = { pipe, cutOut, net: netLengthMap([aCutOut(4_000, 4_500, 0)]), splices: [interval(2_000, 2_300)], cuts: [CUT] };

const demanded = (at: PlanScope, marginMm: number | null, exceptAt: readonly PlanException[] = [], planned = pipe, changes: Partial<PlannedGround> = {}): string =>
  demandedPipe({ at, marginMm, exceptAt }, planned, { ...ground, ...changes }).toMultirange();

describe('the pipe that a plan holds for', () => {
  const planned = (...starts: readonly number[]): string[] => plannedPipe(starts.map((fromMm) => ({ fromMm })), pipe).map((one) => one.toMultirange());

  test('ends where the next one begins, to the millimetre; what is before the first has none', () => {
    expect(planned(1_000, 3_000)).toEqual(['{[1000,3000)}', '{[3000,4000),[4500,10000)}']);
    expect(planned(0)).toEqual(['{[0,4000),[4500,10000)}']);
    expect(planned()).toEqual([]);
  });

  test('is none of a plan from the footage of another, and of one for pipe that is not made yet', () => {
    expect(planned(0, 0)).toEqual(['{}', '{[0,4000),[4500,10000)}']);
    expect(planned(0, 10_000)).toEqual(['{[0,4000),[4500,10000)}', '{}']);
  });
});

describe('the pipe of an item', () => {
  test('for all pipe is all that its plan holds for', () => {
    expect(demanded('pipe', null)).toBe('{[0,4000),[4500,10000)}');
    expect(demanded('pipe', null, [], IntervalSet.of(interval(500, 700)))).toBe('{[500,700)}');
  });

  test('at splices has their margin to both sides, within the pipe of the plan', () => {
    expect(demanded('splices', 100)).toBe('{[1900,2400)}');
    expect(demanded('splices', 0)).toBe('{[2000,2300)}');
    expect(demanded('splices', 100, [], IntervalSet.of(interval(2_100, 9_000)))).toBe('{[2100,2400)}');
    expect(demanded('splices', 100, [], pipe, { splices: [] })).toBe('{}');
  });

  test('at re-joins has it beyond what was cut out, and a millimetre at least', () => {
    expect(demanded('re-joins', 100)).toBe('{[3900,4000),[4500,4600)}');
    expect(demanded('re-joins', 0)).toBe('{[3999,4000),[4500,4501)}');
  });

  test('of a splice beside a cut-out goes on beyond it: the margin is standing pipe', () => {
    expect(demanded('splices', 100, [], pipe, { splices: [interval(3_700, 3_950)] })).toBe('{[3600,4000),[4500,4550)}');
    expect(demanded('splices', 100, [], pipe, { splices: [interval(4_100, 4_300)] })).toBe('{}');
  });

  test('at an end is so much standing pipe, and all of it where less is made', () => {
    expect([demanded('lead-end', 1_000), demanded('tail-end', 1_000)]).toEqual(['{[0,1000)}', '{[9000,10000)}']);
    expect([demanded('lead-end', 4_200), demanded('tail-end', 5_700)]).toEqual(['{[0,4000),[4500,4700)}', '{[3800,4000),[4500,10000)}']);
    expect([demanded('lead-end', 99_999), demanded('tail-end', 99_999)]).toEqual(Array(2).fill('{[0,4000),[4500,10000)}'));
    expect(demanded('tail-end', 1_000, [], IntervalSet.empty, { pipe: IntervalSet.empty, cutOut: IntervalSet.empty })).toBe('{}');
  });

  test('is without its exceptions', () => {
    expect(demanded('pipe', null, [{ at: 'splices', marginMm: 50 }, { at: 're-joins', marginMm: 10 }])).toBe('{[0,1950),[2350,3990),[4510,10000)}');
    expect(demanded('pipe', null, [{ at: 'lead-end', marginMm: 500 }, { at: 'tail-end', marginMm: 500 }])).toBe('{[500,4000),[4500,9500)}');
    expect(demanded('splices', 100, [{ at: 'splices', marginMm: 100 }])).toBe('{}');
  });
});
