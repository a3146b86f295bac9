import { describe, expect, test } from '@jest/globals';
import { bitsOf, STATUS, STATUS_NAMES, type StatusName } from '#libs/signals';
import { applyRules, NO_RULES, type ReadingRules } from './reading-rules.js';

function statusesOf(values: readonly number[], rules: Partial<ReadingRules>, said: readonly StatusName[] = []): (StatusName | undefined)[] {
  const singles = Float32Array.from(values);
  const before = bitsOf(singles).slice();
  const statuses = Uint8Array.from(values, (_, index) => STATUS[said[index] ?? 'read']);
  applyRules(singles, statuses, { ...NO_RULES, ...rules });
  expect(bitsOf(singles)).toEqual(before);
  return [...statuses].map((status) => STATUS_NAMES[status]);
}

describe('rules of a channel', () => {
  test('without any, only NaN is missing and infinity implausible', () => {
    expect(statusesOf([0, -0, 3.4e38, NaN, Infinity, -Infinity], {})).toEqual(['read', 'read', 'read', 'missing', 'implausible', 'implausible']);
  });

  test('a missing value is one as a number, in the precision of the samples', () => {
    expect(statusesOf([-999.9, Math.fround(-999.9), -999, 0, -0, Infinity], { missingValues: [-999.9, 0, 1e300] })).toEqual(['missing', 'missing', 'read', 'missing', 'missing', 'missing']);
  });

  test('a value at its bound of saturation is saturated, one at the edge of what is plausible is plausible', () => {
    const rules = { saturatesAtHigh: 100.1, saturatesAtLow: 0.1, plausibleFrom: 0.7, plausibleTo: 90.3 };
    expect(statusesOf([0.1, 0.2, 0.7, 90.3, 90.4, 100.1, 1e9, -1e9], rules)).toEqual([
      'saturatedLow', 'implausible', 'read', 'read', 'implausible', 'saturatedHigh', 'saturatedHigh', 'saturatedLow',
    ]);
  });

  test('missing goes before saturated, infinity before saturated, saturated before implausible', () => {
    const rules = { missingValues: [999], saturatesAtHigh: 100, plausibleTo: 50 };
    expect(statusesOf([999, Infinity, 100, 51], rules)).toEqual(['missing', 'implausible', 'saturatedHigh', 'implausible']);
  });

  test('a run looks stuck from its given length on, all of it', () => {
    expect(statusesOf([1, 2, 2, 2, 3, 3, 0, -0, 0], { stuckAfter: 3 })).toEqual([
      'read', 'suspectStuck', 'suspectStuck', 'suspectStuck', 'read', 'read', 'suspectStuck', 'suspectStuck', 'suspectStuck',
    ]);
    expect(statusesOf([5, 5], { stuckAfter: 2 })).toEqual(['suspectStuck', 'suspectStuck']);
    expect(statusesOf([5], { stuckAfter: 2 })).toEqual(['read']);
  });

  test('what is not read is in no run, and ends one', () => {
    expect(statusesOf([100, 100, 100], { stuckAfter: 2, saturatesAtHigh: 100 })).toEqual(['saturatedHigh', 'saturatedHigh', 'saturatedHigh']);
    expect(statusesOf([NaN, NaN, NaN], { stuckAfter: 2 })).toEqual(['missing', 'missing', 'missing']);
    expect(statusesOf([4, 4, 4, 4], { stuckAfter: 3 }, ['read', 'read', 'missing', 'read'])).toEqual(['read', 'read', 'missing', 'read']);
  });

  test('what the sender says stands', () => {
    expect(statusesOf([50, 50, -999], { saturatesAtHigh: 40, missingValues: [-999] }, ['saturatedLow', 'missing', 'saturatedHigh'])).toEqual(['saturatedLow', 'missing', 'saturatedHigh']);
  });
});
