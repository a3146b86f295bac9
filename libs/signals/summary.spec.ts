import { describe, expect, test } from '@jest/globals';
import { STATUS, type Samples, type StatusName } from './sample.js';
import { merge, mergeAll, samplesOf, summarise, varianceOf, type Summary } from './summary.js';

type Sample = readonly [value: number, status?: StatusName, position?: number];

const samples = (...given: Sample[]): Samples => ({
  values: Float32Array.from(given, ([value]) => value), statuses: Uint8Array.from(given, ([, status]) => STATUS[status ?? 'read']),
  positions: Float64Array.from(given, ([, , position], index) => position ?? index),
});
const summaryOf = (...given: Sample[]): Summary => summarise(samples(...given), 0, given.length, 1_000);

describe('a summary', () => {
  test('has extremes with the address of the first that has them, mean and variance of what was read', () => {
    const summary = summaryOf([2], [4], [4], [4], [5], [5], [7], [9], [9], [2]);
    expect(summary).toMatchObject({ least: { value: 2, address: 1_000 }, greatest: { value: 9, address: 1_007 }, n: 10, mean: 5.1 });
    expect(summary.squares).toBeCloseTo(56.9, 12);
    expect(varianceOf(summary)).toBeCloseTo(56.9 / 9, 12);
  });

  test('counts what is missing, suspect or implausible, and lets none of it into a figure', () => {
    const summary = summaryOf([5], [0, 'missing'], [-999, 'missing'], [1, 'suspectStuck'], [900, 'implausible'], [6]);
    expect(summary).toMatchObject({
      counts: { read: 2, missing: 2, saturatedHigh: 0, saturatedLow: 0, suspectStuck: 1, implausible: 1 },
      least: { value: 5 }, greatest: { value: 6 }, n: 2, mean: 5.5, squares: 0.5,
    });
  });

  test('takes bounds of saturated samples for its extremes and not for its mean', () => {
    expect(summaryOf([10], [100, 'saturatedHigh'], [0.5, 'saturatedLow'])).toMatchObject({
      least: { value: 0.5, address: 1_002 }, greatest: { value: 100, address: 1_001 }, n: 1, mean: 10, squares: 0,
    });
    expect(summaryOf([100, 'saturatedHigh'])).toMatchObject({ least: { value: 100 }, greatest: { value: 100 }, n: 0, mean: 0 });
  });

  test('takes no NaN and no infinity for a figure, whatever its status', () => {
    expect(summaryOf([NaN], [Infinity], [-Infinity, 'saturatedLow'], [3])).toMatchObject({
      counts: { read: 3, saturatedLow: 1 }, least: { value: 3 }, greatest: { value: 3 }, n: 1, mean: 3, squares: 0,
    });
  });

  test('of nothing read has no figures: that is a gap and not zero', () => {
    const summary = summaryOf([0, 'missing'], [0, 'missing']);
    expect(summary).toMatchObject({ least: null, greatest: null, n: 0 });
    expect(samplesOf(summary)).toBe(2);
    expect(varianceOf(summary)).toBeNull();
    expect(varianceOf(summaryOf([3]))).toBeNull();
  });

  test('names positions in the order of reading and as they reach', () => {
    expect(summaryOf([1, 'read', 50], [1, 'read', 60], [1, 'read', 40], [1, 'missing', 45])).toMatchObject({
      firstPosition: 50, lastPosition: 45, fromPosition: 40, toPosition: 60,
    });
  });

  test('keeps the spread of values with a large common part', () => {
    const summary = summaryOf(...Array.from({ length: 1_000 }, (_, index): Sample => [16_000_000 + (index % 2)]));
    expect(summary.mean).toBe(16_000_000.5);
    expect(summary.squares).toBe(250);
  });
});

describe('summaries together', () => {
  const left: Sample[] = [[1, 'read', 0], [5, 'read', 9], [0, 'missing', 3]];
  const right: Sample[] = [[7, 'read', 2], [1, 'read', -4], [100, 'saturatedHigh', 1]];

  test('are that of all samples', () => {
    const all = samples(...left, ...right);
    const together = merge(summarise(all, 0, 3, 1_000), summarise(all, 3, 6, 1_000));
    expect(together).toEqual(summarise(all, 0, 6, 1_000));
    expect(together).toMatchObject({ least: { value: 1, address: 1_000 }, greatest: { value: 100, address: 1_005 }, n: 4, mean: 3.5, squares: 27 });
  });

  test('lose nothing to one without figures, on either side', () => {
    const [some, none] = [summaryOf([4], [6]), summaryOf([0, 'missing'])];
    for (const together of [merge(some, none), merge(none, some)]) expect(together).toMatchObject({ n: 2, mean: 5, squares: 2, least: { value: 4 }, greatest: { value: 6 } });
    expect(merge(none, none)).toMatchObject({ n: 0, mean: 0, least: null, greatest: null });
  });

  test('of none are none', () => {
    expect(mergeAll([])).toBeNull();
    expect(mergeAll([null, null])).toBeNull();
    expect(mergeAll([null, summaryOf([4]), null])).toEqual(summaryOf([4]));
  });
});
