import { describe, expect, test } from '@jest/globals';
import { tieFindings, tieResidualMm, type TieFigures } from './shoe-tie.rules.js';

/**
 * The end of three runs of a step-by-step simulation of the line (test/fixtures/length-examples.json); B and C with two
 * cut-outs below the footage at the weld point.
 */
const ENDS: [string, TieFigures, number][] = [
  ['A', { weldNetMm: 140_840, hangOffNetMm: 2_840, hangOffMdMm: 2_500, pathMm: 18_000, lambda: 1 }, 62_500],
  ['B', { weldNetMm: 213_440 - 570 - 770, hangOffNetMm: 2_100, hangOffMdMm: 2_500, pathMm: 30_000, lambda: 1 }, 92_500],
  ['C', { weldNetMm: 231_340 - 240 - 210, hangOffNetMm: 1_780, hangOffMdMm: 2_500, pathMm: 26_000, lambda: 0.97 }, 102_507],
];

describe('the residual of a tie', () => {
  test.each(ENDS)('is nothing where the simulated run %s ended', (_, figures, shoeMdMm) => {
    // Every pipe length of these runs is a multiple of 10 mm, so each is right to within one such step.
    expect(Math.abs(tieResidualMm(figures, shoeMdMm))).toBeLessThan(10);
  });
});

describe('a shoe depth', () => {
  const [, figures] = ENDS[0]!;

  test('is usual up to 1 m above the tie before, and within 20 m of pipe', () => {
    expect(tieFindings(62_500, 63_500, figures)).toEqual([]);
    expect(tieFindings(52_500, null, figures)).toEqual([]);
    expect(tieFindings(1, null, null)).toEqual([]);
  });

  test.each([
    ['more than 1 m above the tie before', 62_499, 63_500, '1 m above the 63500 mm'],
    ['more than 20 m of pipe too little', 52_499, null, 'the difference is 20002 mm'],
    ['more than 20 m of pipe too much', 72_501, null, 'the difference is -20002 mm'],
  ])('is asked about when it is %s', (_, shoeMdMm, before, limit) => {
    expect(tieFindings(shoeMdMm, before, figures)).toEqual([
      { tier: 'implausible', field: 'shoeMdMm', value: String(shoeMdMm), limit: expect.stringContaining(limit) },
    ]);
  });
});
