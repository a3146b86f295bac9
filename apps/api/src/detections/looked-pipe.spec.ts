import { expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { lookedRuns, stillLies } from './looked-pipe.service.js';

const pipe = (...ends: readonly [number, number][]): IntervalSet => IntervalSet.from(ends.map(([fromMm, toMm]) => ({ fromMm, toMm })));
const stroke = (runId: string, fromMm: number, toMm: number, channelId = 'ET') => ({ channelId, runId, looked: { fromMm, toMm } });
const nothing = (): IntervalSet => IntervalSet.empty;
const shown = (runs: ReturnType<typeof lookedRuns>): string[] => runs.map((run) => `${run.runId} ${run.pipe.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()}`);

test('what no sample spoke for between the first and the last one was not looked at', () => {
  expect(shown(lookedRuns('ET', [stroke('a', 100, 900)], [{ runId: 'a', read: pipe([0, 400], [410, 1000]) }], nothing))).toEqual(['a 100-400,410-900']);
});

test('nor was what a mark or a splice left out, by the run that it is of', () => {
  const tracks = [{ runId: 'a', read: pipe([0, 1000]) }, { runId: 'b', read: pipe([0, 1000]) }];
  const leftOut = (runId: string): IntervalSet => (runId === 'a' ? pipe([300, 320]) : IntervalSet.empty);
  expect(shown(lookedRuns('ET', [stroke('a', 0, 500), stroke('b', 250, 500)], tracks, leftOut))).toEqual(['a 0-300,320-500', 'b 250-500']);
});

test('goes of one run count together, those of another channel or with nothing looked at do not', () => {
  const saw = [stroke('a', 0, 100), stroke('a', 200, 300), stroke('a', 100, 200, 'UT'), { channelId: 'ET', runId: 'b', looked: null }];
  expect(shown(lookedRuns('ET', saw, [{ runId: 'a', read: pipe([0, 50]) }, { runId: 'a', read: pipe([40, 400]) }], nothing))).toEqual(['a 0-100,200-300', 'b ']);
});

test('samples lie where they lay while later ones only go on from them, and not once their places are others', () => {
  const piece = (fromUs: number, toUs: number, fromMm: number, toMm: number) => ({ fromUs, toUs, fromMm, toMm });
  const then = [piece(0, 100, 0, 1000), piece(100, 200, 1000, 1500)];
  expect(stillLies(then, then)).toBe(true);
  expect(stillLies(then, [piece(0, 100, 0, 1000), piece(100, 300, 1000, 2000)])).toBe(true);
  expect(stillLies(then, [piece(0, 100, 0, 1000), piece(100, 200, 1000, 1503), piece(200, 300, 1503, 2000)])).toBe(true);
  expect(stillLies(then, [piece(0, 100, 0, 1000), piece(100, 200, 1002, 1502)])).toBe(false);
  expect(stillLies(then, [piece(0, 100, 0, 1000), piece(100, 200, 1000, 1600)])).toBe(false);
  expect(stillLies(then, [piece(0, 100, 500, 1500), piece(100, 200, 1500, 2000)])).toBe(false);
  expect(stillLies(then, [piece(0, 100, 0, 1000)])).toBe(false);
  expect(stillLies([], then)).toBe(true);
});
