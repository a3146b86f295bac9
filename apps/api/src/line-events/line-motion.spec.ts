import { describe, expect, test } from '@jest/globals';
import { speedOf, stepsOf } from './counted-steps.js';
import { oddSpeeds, reversalsOf, stopsOf } from './line-motion.js';

/** Readings as [minute, footage in mm]. */
const steps = (...readings: readonly (readonly [number, number])[]) => stepsOf({ timesUs: readings.map(([minute]) => minute * 60e6), footagesMm: readings.map(([, mm]) => mm) });
const told = (found: readonly { fromUs: number; toUs: number; fromMm: number; toMm: number }[]): number[][] => found.map(({ fromUs, toUs, fromMm, toMm }) => [fromUs / 60e6, toUs / 60e6, fromMm, toMm]);
const rule = { slowMPerMin: 0.1, leastSeconds: 120 };

test('a metre in a minute is 1 m/min, forward and backward', () => {
  expect(steps([0, 0], [1, 1_000], [3, -1_000]).map(speedOf)).toEqual([1, 1]);
});

describe('a stop', () => {
  test('lasts from the reading at which the pipe stood to the one from which on it moved', () => {
    expect(told(stopsOf(steps([0, 0], [10, 50_000], [11, 50_000], [12, 50_000], [13, 60_000]), rule))).toEqual([[10, 12, 50_000, 50_000]]);
  });

  test('shorter than the limit is none, and one as long as it is one', () => {
    expect(stopsOf(steps([0, 0], [1, 0], [2, 9_000]), rule)).toEqual([]);
    expect(told(stopsOf(steps([0, 0], [2, 0], [3, 9_000]), rule))).toEqual([[0, 2, 0, 0]]);
  });

  test('may creep, forward or back, at the limit of speed and not above it', () => {
    expect(told(stopsOf(steps([0, 0], [1, 100], [2, 0], [3, 101]), rule))).toEqual([[0, 2, 0, 0]]);
    expect(stopsOf(steps([0, 0], [1, 101], [2, 202]), rule)).toEqual([]);
  });

  test('that is interrupted is two, and the last one may have no end', () => {
    expect(told(stopsOf(steps([0, 0], [2, 0], [3, 5_000], [6, 5_000]), rule))).toEqual([[0, 2, 0, 0], [3, 6, 5_000, 5_000]]);
  });
});

test('a reversal goes from where the pipe turned to where it turned again, standing between two of its steps apart', () => {
  expect(told(reversalsOf(steps([0, 0], [1, 9_000], [2, 8_000], [3, 6_500], [4, 9_500], [5, 9_400], [6, 9_400], [7, 9_300])))).toEqual([
    [1, 3, 9_000, 6_500], [4, 5, 9_500, 9_400], [6, 7, 9_400, 9_300],
  ]);
});

describe('speed', () => {
  test('outside of the window is told by side, the ends of the window being inside', () => {
    const found = oddSpeeds(steps([0, 0], [1, 4_000], [2, 7_000], [3, 9_000], [4, 27_000], [5, 46_000], [6, 66_000]), 4, 18);
    expect(found.map(({ side, worstMPerMin }) => [side, worstMPerMin])).toEqual([['too-slow', 2], ['too-fast', 20]]);
    expect(told(found)).toEqual([[1, 3, 4_000, 9_000], [4, 6, 27_000, 66_000]]);
  });

  test('is not asked of pipe that stood, and a turn or a gap parts what is joined', () => {
    expect(oddSpeeds(steps([0, 0], [9, 0]), 4, 18)).toEqual([]);
    expect(told(oddSpeeds(steps([0, 0], [1, 1_000], [2, 0]), 4, 18))).toEqual([[0, 1, 0, 1_000], [1, 2, 1_000, 0]]);
    const [one, two] = [steps([0, 0], [1, 1_000]), steps([1, 2_000], [2, 3_000])];
    expect(told(oddSpeeds([...one, ...two], 4, 18, 999))).toEqual([[0, 1, 0, 1_000], [1, 2, 2_000, 3_000]]);
    expect(told(oddSpeeds([...one, ...two], 4, 18, 1_000))).toEqual([[0, 2, 0, 3_000]]);
  });
});
