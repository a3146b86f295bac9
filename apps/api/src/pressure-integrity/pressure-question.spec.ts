import { describe, expect, test } from '@jest/globals';
import { MOST_WINDOWS, pressureLasQuestionOf, pressureQuestionOf, usualWindowMm } from './pressure-question.js';

describe('a question about pressure integrity', () => {
  test('without anything asks for both walls whole, as known now', () => {
    expect(pressureQuestionOf({})).toEqual({ by: 'md', interval: null, at: null, shoeMdMm: null, asKnownAt: null, windowMm: null, explain: false });
  });

  test('with everything', () => {
    expect(pressureQuestionOf({ by: 'footage', fromM: '1.5', toM: '2', shoeMdM: '10', windowM: '0.1', explain: 'true' })).toMatchObject({
      by: 'footage', interval: { fromMm: 1_500, toMm: 2_000 }, shoeMdMm: 10_000, windowMm: 100, explain: true,
    });
    expect(pressureLasQuestionOf({ wall: 'inner' })).toMatchObject({ wall: 'inner', explain: false });
  });

  test('windows are 10 m, or as many tens of metres as keep the answer bounded', () => {
    expect([0, 1, 20_000_000, 20_000_001, 100_000_000].map(usualWindowMm)).toEqual([10_000, 10_000, 10_000, 20_000, 50_000]);
    for (const lengthMm of [1, 19_999_999, 55_000_000, 100_000_000]) expect(lengthMm / usualWindowMm(lengthMm)).toBeLessThanOrEqual(MOST_WINDOWS);
  });
});
