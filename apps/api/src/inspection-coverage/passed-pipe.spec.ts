import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { instantOf } from '#libs/persistence';
import { aCutOut } from '../../../../test/fixtures/string-lengths.js';
import { LineKnowledge } from '../line/line-knowledge.js';
import { liftedProbes } from '../channel-watch/lifted-probes.js';
import { coveredPipe, validGoes } from './channel-coverage.js';
import { pipeSoFar, type PipeSoFar } from './passed-pipe.js';

/** The lines of the worked examples of the length model: a station at the hang-off, cut-outs when the counter read so much. One millimetre of pipe a microsecond. */
function line(stationMm: number, cuts: readonly (readonly [number, number, number])[] = [], moved: readonly (readonly [number, number])[] = []): LineKnowledge {
  const setups = [[-1, stationMm] as const, ...moved].map(([atUs, pathMm]) => ({
    id: `from ${atUs}`, validFrom: instantOf(atUs), stations: [{ name: 'head', role: null, path: { minMm: pathMm, maxMm: pathMm, uMm: 0 } }],
  }));
  return new LineKnowledge({ masterCounter: 'M', periods: [], setups, cutOuts: cuts.map(([from, to, atUs]) => aCutOut(from, to, atUs)) });
}

const log = (...mm: readonly number[]) => ({ timesUs: mm, footagesMm: mm });
const tail = (soFar: PipeSoFar, cuts: readonly (readonly [number, number, number])[] = []): number[][] =>
  coveredPipe({ soFar, goes: [] }, IntervalSet.from(cuts.map(([fromMm, toMm]) => ({ fromMm, toMm })))).notYet.intervals.map(({ fromMm, toMm }) => [fromMm, toMm]);

const CUTS_OF_B = [[58_090, 58_660, 82_100], [124_540, 125_310, 142_950]] as const;

test('a log of 200,000 readings and a run of as many blocks are taken as shorter ones are', () => {
  const many = Array.from({ length: 200_000 }, (_, index) => index);
  expect(pipeSoFar(line(18_000), 'M', { timesUs: many, footagesMm: many }, null)).toEqual({ madeMm: 199_999, passedMm: 199_999 });
  const track = { runId: 'r', read: IntervalSet.empty, pieces: many.map((mm) => ({ fromUs: mm, toUs: mm + 1, fromMm: mm, toMm: mm + 1 })) };
  expect(validGoes('A', [track], []).map(({ fromUs }) => fromUs)).toEqual([0]);
  const over = liftedProbes([{ span: { fromMm: 100_000, toMm: 100_050 } }], [track], [], 0);
  expect(over.map(({ blind }) => blind.totalLengthMm)).toEqual([50]);
});

describe('the pipe that has not passed a station', () => {
  test('is as long as the line up to it, while nothing was cut out: example A, 18 m', () => {
    const soFar = pipeSoFar(line(18_000), 'M', log(0, 140_840), 'head');
    expect([soFar, tail(soFar)]).toEqual([{ madeMm: 140_840, passedMm: 122_840 }, [[122_840, 140_840]]]);
  });

  test('is as long however often was cut further down: example B at its end, 30 m, and C, 26 m', () => {
    expect(pipeSoFar(line(30_000, CUTS_OF_B), 'M', log(0, 213_440), 'head')).toEqual({ madeMm: 213_440, passedMm: 183_440 });
    expect(pipeSoFar(line(26_000, [[33_570, 33_810, 59_230], [52_430, 52_640, 76_290]]), 'M', log(0, 231_340), 'head')).toEqual({ madeMm: 231_340, passedMm: 205_340 });
  });

  test('goes around a cut-out on the line: 30 m of standing pipe reach over 30.77 m of footage', () => {
    // B at 150000: 150000 − 770 − 30000 is above the first cut-out and below the second.
    const soFar = pipeSoFar(line(30_000, CUTS_OF_B), 'M', log(0, 150_000), 'head');
    expect([soFar.passedMm, tail(soFar, CUTS_OF_B)]).toEqual([119_230, [[119_230, 124_540], [125_310, 150_000]]]);
  });

  test('is shorter for a while after a cut-out pulled pipe back that had passed already', () => {
    // B when the second piece had just been cut: up to 142950 − 30000 had passed before it.
    const soFar = pipeSoFar(line(30_000, CUTS_OF_B), 'M', log(0, 142_950), 'head');
    expect([soFar.passedMm, tail(soFar, CUTS_OF_B)]).toEqual([112_950, [[112_950, 124_540], [125_310, 142_950]]]);
  });

  test('is not longer for a line that backed up, nor for a station that was moved downstream', () => {
    const there = { timesUs: [0, 1, 2], footagesMm: [0, 50_000, 20_000] };
    expect(pipeSoFar(line(18_000), 'M', there, 'head')).toEqual({ madeMm: 50_000, passedMm: 32_000 });
    expect(pipeSoFar(line(6_000, [], [[50_000, 9_000]]), 'M', log(0, 50_000, 52_000), 'head')).toEqual({ madeMm: 52_000, passedMm: 44_000 });
  });

  test('is none at the weld point, all before the pipe came to the station, and not known without a set-up', () => {
    expect(pipeSoFar(line(18_000), 'M', log(0, 10_000), null)).toEqual({ madeMm: 10_000, passedMm: 10_000 });
    expect(tail(pipeSoFar(line(18_000), 'M', log(0, 10_000), 'head'))).toEqual([[0, 10_000]]);
    expect(pipeSoFar(line(18_000), 'M', log(0, 10_000), 'another')).toEqual({ madeMm: 10_000, passedMm: null });
    expect(pipeSoFar(line(18_000), 'M', log(), 'head')).toEqual({ madeMm: 0, passedMm: 0 });
  });
});
