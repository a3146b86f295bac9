import { describe, expect, test } from '@jest/globals';
import { ACCOUNT_RULE, ADDRESS_RULE, waitMs, WINDOW_MS } from './backoff.js';

const now = 1_000_000_000;
/** So many failures, a second apart, the last one `agoMs` ago. */
const failures = (count: number, agoMs = 0): number[] =>
  Array.from({ length: count }, (_, index) => now - agoMs - index * 1000);

describe('waitMs', () => {
  test.each([
    [0, 0], [4, 0], [5, 1000], [6, 2000], [7, 4000], [10, 32_000], [11, 60_000], [200, 60_000],
  ])('after %i failures an account waits %i ms', (count, expected) => {
    expect(waitMs(failures(count), now, ACCOUNT_RULE)).toBe(expected);
  });

  test('an address waits longer than an account', () => {
    expect(waitMs(failures(11), now, ADDRESS_RULE)).toBe(64_000);
    expect(waitMs(failures(100), now, ADDRESS_RULE)).toBe(WINDOW_MS);
  });

  test('the wait runs from the latest failure, whatever the order', () => {
    expect(waitMs([...failures(6, 500)].reverse(), now, ACCOUNT_RULE)).toBe(1500);
    expect(waitMs(failures(6, 2000), now, ACCOUNT_RULE)).toBe(0);
  });

  test('what is older than a quarter of an hour is forgotten', () => {
    expect(waitMs(failures(50, WINDOW_MS), now, ADDRESS_RULE)).toBe(0);
    expect(waitMs([...failures(4), now - WINDOW_MS], now, ACCOUNT_RULE)).toBe(0);
    expect(waitMs([...failures(4), now - WINDOW_MS + 1], now, ACCOUNT_RULE)).toBe(1000);
  });
});
