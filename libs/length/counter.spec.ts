import { describe, expect, test } from '@jest/globals';
import { recordRef } from '../../test/fixtures/string-lengths.js';
import { chainPeriods, footageAtReading, readingAtFootage, type RecordedCounterPeriod } from './counter.js';

const first: RecordedCounterPeriod = {
  record: recordRef('counter-period', 'first'),
  startReading: 100,
  start: { kind: 'established', footageMm: 5_000 },
  scaleMmPerCount: 2.5,
  scaleRelativeU: 0.001,
};
const afterReset: RecordedCounterPeriod = {
  ...first,
  record: recordRef('counter-period', 'after-reset'),
  startReading: 0,
  start: { kind: 'continues', previousEndReading: 500 },
  scaleMmPerCount: 2,
};

describe('a counter period', () => {
  test('turns a reading into the footage at the weld point, and back; a reversal lowers both', () => {
    const [period] = chainPeriods([first]);
    expect(footageAtReading(period!, 300)).toBe(5_500);
    expect(footageAtReading(period!, 90)).toBe(4_975);
    expect(readingAtFootage(period!, 5_500)).toBe(300);
  });

  test('that continues starts at the footage its predecessor reached', () => {
    expect(chainPeriods([first, afterReset]).map(({ startFootageMm }) => startFootageMm)).toEqual([5_000, 6_000]);
  });

  test('moves when an earlier scale is corrected; an established one does not', () => {
    const corrected = { ...first, scaleMmPerCount: 2.6 };
    const established: RecordedCounterPeriod = { ...afterReset, start: { kind: 'established', footageMm: 7_000 } };
    const starts = chainPeriods([corrected, afterReset, established]).map(({ startFootageMm }) => startFootageMm);
    expect(starts).toEqual([5_000, 6_040, 7_000]);
  });

  test('is refused when it continues nothing or has no scale', () => {
    expect(() => chainPeriods([afterReset])).toThrow('none is recorded before it');
    expect(() => chainPeriods([{ ...first, scaleMmPerCount: 0 }])).toThrow('scale of 0');
  });
});
