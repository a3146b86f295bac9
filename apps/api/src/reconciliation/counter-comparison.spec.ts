import { describe, expect, test } from '@jest/globals';
import { compareCounters, type Master, type ReadFootage } from './counter-comparison.js';

/** A master that makes 1 mm/µs from 0 to 300000 µs. */
const master: Master = {
  scaleRelativeU: 0.0003,
  at: (atUs) => (atUs < 0 || atUs > 300_000 ? null : { footageMm: atUs, uMm: 0, basis: 'at a reading', readings: [] }),
};
const read = (atUs: number, footageMm: number): ReadFootage => ({ atUs, footageMm, scaleRelativeU: 0.0004 });

describe('another counter against the master', () => {
  test('a slip between two readings shows in its step and in the whole', () => {
    const { overall, steps } = compareCounters(master, [read(0, 0), read(100_000, 100_020), read(200_000, 199_520)]);
    expect(steps.map(({ differenceMm, isExceeded }) => [differenceMm, isExceeded])).toEqual([[20, false], [-500, true]]);
    expect(overall).toMatchObject({ fromUs: 0, toUs: 200_000, masterMm: 200_000, otherMm: 199_520, differenceMm: -480, per100MMm: -240, isExceeded: true });
    // √((0.0004 · 199520)² + (0.0003 · 200000)²)
    expect(overall?.uMm).toBeCloseTo(99.846, 3);
  });

  test('readings outside the master\'s count for nothing; one common time compares nothing', () => {
    expect(compareCounters(master, [read(-5, 0), read(10, 10), read(300_001, 0)])).toEqual({ overall: null, steps: [] });
  });

  test('a line that stood has no difference per 100 m', () => {
    const still: Master = { ...master, at: () => ({ footageMm: 7, uMm: 2, basis: 'between readings', readings: [] }) };
    const { overall } = compareCounters(still, [read(0, 100), read(10, 106)]);
    expect(overall).toMatchObject({ masterMm: 0, differenceMm: 6, per100MMm: null, isExceeded: true });
    expect(overall?.uMm).toBeCloseTo(Math.sqrt(8), 5);
  });
});
