import { describe, expect, test } from '@jest/globals';
import { DEFAULT_RETEST_RULE } from '#libs/tube-tests';
import type { DestructiveTest } from '../destructive-tests/destructive-test.entity.js';
import { namedTests, testUnits } from './test-units.js';

const SAMPLES = ['S1', 'S2', 'S3'];

/** Tests as `[sample, hour, outcome, follows]`, ids by their place from 1. */
function unitsOf(...given: [string, number, 'pass' | 'fail', number?][]): string[][] {
  const rows = given.map(([testSampleId, hour, outcome, follows], index) => ({
    id: String(index + 1), testSampleId, outcome, voidReason: null, followsTestId: follows === undefined ? null : String(follows),
    observedAt: `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`,
  }) as DestructiveTest).sort((one, other) => (one.observedAt < other.observedAt ? -1 : 1));
  const cutFrom = (sampleId: string): string => (sampleId === 'S3' ? 'coil b' : 'coil a');
  const units = testUnits(namedTests(rows, new Map(SAMPLES.map((number) => [number, number]))), () => DEFAULT_RETEST_RULE, cutFrom);
  return units.map(({ answer: { state, words } }) => [state, words]);
}

describe('a unit of tests', () => {
  test('is not passed by retests on the piece that failed or on another coil, which are told; by others it is', () => {
    expect(unitsOf(['S1', 8, 'fail'], ['S1', 9, 'pass', 1], ['S3', 10, 'pass', 1])).toEqual([[
      'open', expect.stringMatching(/S1\/1 failed, S1\/2 passed and does not count: made on the very piece that failed, S3\/1 passed and does not count: cut from another coil.*, 2 more to pass/),
    ]]);
    expect(unitsOf(['S1', 8, 'fail'], ['S2', 9, 'pass', 1], ['S2', 10, 'pass', 1])).toMatchObject([['failed, retests passed', expect.anything()]]);
  });

  test('is failed by a retest wherever it was made', () => {
    expect(unitsOf(['S1', 8, 'fail'], ['S3', 9, 'fail', 1])).toMatchObject([['failed', expect.stringContaining('so did its retest S3/1')]]);
  });

  test('whose records contradict each other says so, and is never shown as passed', () => {
    const toCorrect = 'the records contradict each other and are to be corrected';
    // The follower is older than what it follows.
    expect(unitsOf(['S1', 10, 'fail'], ['S2', 9, 'pass', 1])).toEqual([['failed', `failed: ${toCorrect}: result S2/1 is earlier than S1/1, which it follows`]]);
    expect(unitsOf(['S1', 10, 'pass'], ['S2', 9, 'pass', 1])).toEqual([['open', `open: ${toCorrect}: result S2/1 is earlier than S1/1, which it follows`]]);
    expect(unitsOf(['S1', 9, 'pass', 2], ['S2', 9, 'pass', 1])).toEqual([['open', `open: ${toCorrect}: results follow one another in a circle: S1/1, S2/1`]]);
  });
});
