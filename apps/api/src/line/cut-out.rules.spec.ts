import { describe, expect, test } from '@jest/globals';
import { cutOutFindings, mostMadeMm } from './cut-out.rules.js';

describe('a cut-out', () => {
  const onTheLine = { hangOffMm: 32_000.4, weldMm: 51_000.2 };
  const fields = (fromMm: number, toMm: number, line: Parameters<typeof cutOutFindings>[1] = onTheLine): string[] =>
    cutOutFindings({ fromMm, toMm }, line).map(({ field }) => field);

  test('lies on the line', () => {
    expect(fields(32_000, 51_001)).toEqual([]);
  });

  test('is asked about below the hang-off and above the weld point', () => {
    expect(fields(31_999, 33_000)).toEqual(['from']);
    expect(fields(50_000, 51_002)).toEqual(['to']);
    expect(fields(0, 90_000)).toEqual(['from', 'to']);
  });

  test('is not asked about where nothing is known of the line', () => {
    expect(fields(0, 90_000, { hangOffMm: null, weldMm: null })).toEqual([]);
  });
});

test('after the last reading at most 40 m are made in a minute', () => {
  expect(mostMadeMm({ footageMm: 1_000, atUs: 0 }, 60e6)).toBeCloseTo(41_000, 6);
});
