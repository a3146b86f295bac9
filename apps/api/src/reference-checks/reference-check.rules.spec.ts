import { describe, expect, test } from '@jest/globals';
import type { CheckResult } from './reference-check.entity.js';
import { checkFaults, checkFindings, checkResults, isReached, outcomeOf, outcomesOf, unreadableAmplitudes } from './reference-check.rules.js';

const result = (channelId: string, amplitude: string, changes: Partial<CheckResult> = {}): CheckResult => ({
  channelId, reflector: `notch ${amplitude}`, size: null, amplitude, threshold: '60', sense: 'above', ...changes,
});
const check = (results: CheckResult[], voidReason: string | null = null) => ({ results, voidReason });

describe('a reflector', () => {
  test.each([
    ['60', 'above', true], ['60.0', 'above', true], ['59.999', 'above', false], ['≥ 100', 'above', true], ['>=60', 'above', true], ['> 59', 'above', false], ['< 80', 'above', false],
    ['60', 'below', true], ['60.001', 'below', false], ['< 60', 'below', true], ['≤ 60', 'below', true], ['< 61', 'below', false], ['> 10', 'below', false],
  ] as const)('that showed %s is held against 60, sense %s: %s', (amplitude, sense, reached) => {
    expect(isReached({ amplitude, threshold: '60', sense })).toBe(reached);
  });

  test('with digits that are none is told of', () => {
    expect(unreadableAmplitudes([result('a', '74,5'), result('a', '74.5'), result('a', '>')]).map(({ field }) => field)).toEqual(['results[0].amplitude', 'results[2].amplitude']);
    expect(() => isReached(result('a', 'high'))).toThrow(RangeError);
  });
});

describe('what a check came to', () => {
  test('is said of each channel by itself, and one reflector that does not show fails it', () => {
    const both = check([result('b', '70'), result('a', '74.5'), result('b', '41')]);
    expect(outcomesOf(both)).toEqual([{ channelId: 'b', outcome: 'failed' }, { channelId: 'a', outcome: 'passed' }]);
    expect(outcomeOf(both, 'c')).toBeNull();
  });

  test('is nothing where it is void, and says nothing of channels that it does not name', () => {
    expect(outcomesOf(check([result('a', '41')], 'Standard was dirty'))).toEqual([{ channelId: 'a', outcome: 'void' }]);
    expect(outcomesOf(check([], 'Standard was dirty'))).toEqual([]);
  });

  test('is marked reflector by reflector, and only noted where it is void', () => {
    expect(checkFindings(check([result('a', '74.5'), result('a', '41')]))).toEqual([
      { tier: 'out-of-specification', field: 'results[1].amplitude', value: '41', limit: 'notch 41: at least 60' },
    ]);
    expect(checkFindings(check([result('a', '74.5', { sense: 'below' })], 'Dirty'))).toMatchObject([{ tier: 'noted', limit: 'notch 74.5: at most 60' }]);
  });
});

test('no result of one that counts, and a reflector twice, do not go together', () => {
  type Said = Parameters<typeof checkFaults>[0];
  const fields = (said: Partial<Said>): string[] => checkFaults({ from: { footageMm: 5 }, results: [result('a', '70')], ...said }).map(({ field }) => field);
  expect(fields({})).toEqual([]);
  expect(fields({ results: [] })).toEqual(['results']);
  expect(fields({ results: [], voidReason: 'Standard was dirty' })).toEqual([]);
  expect(fields({ results: [result('a', '70'), result('b', '70'), result('a', '70')], from: {} })).toEqual(['from', 'results[2].reflector']);
  expect(checkResults([{ channelId: 'a', reflector: 'N10', amplitude: '70', threshold: '60', sense: 'above' }])).toEqual([
    { channelId: 'a', reflector: 'N10', size: null, amplitude: '70', threshold: '60', sense: 'above' },
  ]);
});
