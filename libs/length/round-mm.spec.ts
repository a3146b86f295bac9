import { describe, expect, test } from '@jest/globals';
import { roundMm } from './round-mm.js';

describe('roundMm', () => {
  test.each([
    [0.5, 1],
    [1.5, 2],
    [-1.5, -1],
    [2.4999, 2],
    [0.49999999999999994, 0],
    [-7, -7],
  ])('%d → %d: halves go up', (mm, expected) => {
    expect(roundMm(mm)).toBe(expected);
  });

  test('gives no negative zero', () => {
    expect(Object.is(roundMm(-0.5), 0)).toBe(true);
  });
});
