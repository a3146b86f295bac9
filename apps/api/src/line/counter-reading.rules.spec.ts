import { describe, expect, test } from '@jest/globals';
import { notAsked, readingFindings, withoutPeriod } from './counter-reading.rules.js';

const MINUTE_US = 60e6;
const before = { footageMm: 100_000, atUs: 0 };

describe('a reading after another', () => {
  test.each([
    ['the same', 100_000, 0],
    ['a reversal of 50 m', 50_000, 1],
    ['250 m in a minute', 350_000, MINUTE_US],
  ])('is usual with %s', (_, footageMm, atUs) => {
    expect(readingFindings('1', { footageMm, atUs }, before)).toEqual([]);
  });

  test.each([
    ['a longer reversal', 49_999, MINUTE_US, 'below the reading before'],
    ['a faster line', 350_001, MINUTE_US, '250 m/min'],
    ['pipe made in no time', 100_001, 0, '250 m/min'],
  ])('is asked about with %s', (_, footageMm, atUs, limit) => {
    expect(readingFindings('118500', { footageMm, atUs }, before)).toEqual([
      { tier: 'implausible', field: 'reading', value: '118500', limit: expect.stringContaining(limit) },
    ]);
  });

  test('that is the first is usual', () => {
    expect(readingFindings('-5', { footageMm: -5, atUs: 0 }, null)).toEqual([]);
  });
});

test('a line computer is not asked: what is unlikely is noted', () => {
  const found = readingFindings('1', { footageMm: 0, atUs: MINUTE_US }, before);
  expect(notAsked([...found, withoutPeriod('1', 'main')]).map(({ tier }) => tier)).toEqual(['noted', 'noted']);
});
