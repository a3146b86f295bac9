import { describe, expect, test } from '@jest/globals';
import { aCutOut } from '../../test/fixtures/string-lengths.js';
import { netLengthMap } from './net-lengths.js';
import { materialAtStation } from './stations.js';

const uncut = netLengthMap([]);

describe('the material at a station', () => {
  test('downstream of the weld point is what passed it so much earlier', () => {
    expect(materialAtStation(50_000, 3_000, uncut)).toEqual({ bestMm: 47_000, fromMm: 47_000, toMm: 47_000, uMm: 0, predicted: false });
  });

  test('lies further back where a cut-out shortened the pipe in between', () => {
    expect(materialAtStation(50_000, 3_000, netLengthMap([aCutOut(48_000, 48_500, 1)])).bestMm).toBe(46_500);
    expect(materialAtStation(50_000, 1_500, netLengthMap([aCutOut(48_000, 48_500, 1)])).bestMm).toBe(48_500);
  });

  test('upstream of the weld point is predicted: its future footage', () => {
    expect(materialAtStation(50_000, -4_000, uncut)).toMatchObject({ bestMm: 54_000, predicted: true });
  });

  test('behind an accumulator is a range', () => {
    expect(materialAtStation(50_000, { minMm: -90_000, maxMm: -10_000, uMm: 25 }, uncut)).toEqual({
      bestMm: 100_000,
      fromMm: 60_000,
      toMm: 140_000,
      uMm: 25,
      predicted: true,
    });
  });
});
