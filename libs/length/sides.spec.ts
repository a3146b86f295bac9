import { describe, expect, test } from '@jest/globals';
import { clockHoursDownHole, facingOf, spliceHandOn } from './sides.js';

describe('inside out', () => {
  test('the line’s inner surface faces rock on the outer wall and the bore on the inner wall', () => {
    expect(facingOf('formed-inside', 'outer')).toBe('rock');
    expect(facingOf('formed-inside', 'inner')).toBe('bore');
  });

  test('the line’s outer surfaces face each other between the walls', () => {
    expect(facingOf('formed-outside', 'outer')).toBe('between the walls');
    expect(facingOf('formed-outside', 'inner')).toBe('between the walls');
  });

  test('a clock position is mirrored only when it was viewed up the hole', () => {
    expect(clockHoursDownHole(2.5, 'down-the-hole')).toBe(2.5);
    expect(clockHoursDownHole(2.5, 'up-the-hole')).toBe(9.5);
    expect([12, 6].map((hours) => clockHoursDownHole(hours, 'up-the-hole'))).toEqual([12, 6]);
    for (const hours of [0, -1, 12.01, Number.NaN]) expect(() => clockHoursDownHole(hours, 'up-the-hole')).toThrow(RangeError);
  });

  test('the fold reverses the hand of a bias splice', () => {
    expect([spliceHandOn('outer', 'left'), spliceHandOn('outer', 'right')]).toEqual(['right', 'left']);
    expect([spliceHandOn('inner', 'left'), spliceHandOn('inner', 'right')]).toEqual(['left', 'right']);
  });
});
