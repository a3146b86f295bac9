import { describe, expect, test } from '@jest/globals';
import { RateLimiter } from './rate-limiter.js';

describe('RateLimiter', () => {
  test('keeps each key within its minute', () => {
    const limiter = new RateLimiter(2);
    expect([1, 2, 3].map(() => limiter.take('a', 1000))).toEqual([true, true, false]);
    expect(limiter.isSpent('a', 59_999)).toBe(true);
    expect(limiter.take('b', 59_999)).toBe(true);
    expect(limiter.isSpent('b', 59_999)).toBe(false);
    expect(limiter.take('a', 60_000)).toBe(true);
  });

  test.each([[0, 60], [59_500, 1], [60_000, 60], [30_000, 30]])('at %i ms, %i seconds are left', (now, seconds) => {
    expect(RateLimiter.secondsLeft(now)).toBe(seconds);
  });
});
