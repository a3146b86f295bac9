import { describe, expect, test } from '@jest/globals';
import { LengthModel } from '#libs/length';
import { aString, recordRef } from '../../../../test/fixtures/string-lengths.js';
import { compareFootages, countedFootage } from './stop-footage.js';

const reading = (atUs: number, footageMm: number) => ({ record: recordRef('reading', `${atUs}`), atUs, footageMm, readIn: null });
const lengths = new LengthModel(aString({ weldFootage: [reading(100, 1_000.4), reading(200, 1_120)] }));

describe('the footage of the counter', () => {
  test('is that of its readings, to the millimetre', () => {
    expect(countedFootage(lengths, 100)).toEqual({ footageMm: 1_000, uMm: 0, basis: 'at a reading' });
    expect(countedFootage(lengths, 150)).toMatchObject({ footageMm: 1_060, basis: 'between readings' });
    expect(countedFootage(lengths, 900)).toMatchObject({ footageMm: 1_120, basis: 'after the last reading' });
  });

  test('is not known before the first reading, and without any', () => {
    expect(countedFootage(lengths, 99)).toBe('the line stopped before the first reading of the master counter');
    expect(countedFootage(new LengthModel(aString({ weldFootage: [] })), 1)).toBe('the master counter has no reading with a footage');
  });
});

describe('record and counter', () => {
  const atReading = (footageMm: number) => ({ footageMm, uMm: 0, basis: 'at a reading' as const });

  test('agree within the expanded uncertainty of their difference: 2 √(3² + 4²) = 10 mm', () => {
    const counted = (footageMm: number) => ({ footageMm, uMm: 4, basis: 'between readings' as const });
    expect(compareFootages({ footageMm: 1_000, uMm: 3 }, counted(1_010))).toMatchObject({ differenceMm: 10, plusMinusMm: 10, agrees: true, isHeld: true });
    expect(compareFootages({ footageMm: 1_000, uMm: 3 }, counted(989))).toMatchObject({
      differenceMm: -11, agrees: false, words: 'the counter says 11 mm less than the record, which ± 10 mm does not explain: the intervals take in both, and one of the two needs correcting',
    });
  });

  test('say the same, or differ by what nobody stated', () => {
    expect(compareFootages({ footageMm: 1_000, uMm: 0 }, atReading(1_000))).toMatchObject({ differenceMm: 0, agrees: true, words: 'counter and record say the same' });
    expect(compareFootages({ footageMm: 1_000, uMm: 0 }, atReading(1_001))).toMatchObject({ differenceMm: 1, agrees: false });
  });

  test('are not held together when the last reading is before the stop', () => {
    expect(compareFootages({ footageMm: 1_500, uMm: 0 }, { footageMm: 1_120, uMm: 0, basis: 'after the last reading' })).toMatchObject({
      differenceMm: -380, isHeld: false, words: expect.stringContaining('rest on the record alone'),
    });
  });
});
