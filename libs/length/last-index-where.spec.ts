import { expect, test } from '@jest/globals';
import { lastIndexWhere } from './last-index-where.js';

test.each([[0, -1], [1, 0], [2, 0], [3, 2], [9, 4]])('the last of 1, 3, 3, 4, 6 up to %d has index %d', (limit, expected) => {
  expect(lastIndexWhere([1, 3, 3, 4, 6], (value) => value <= limit)).toBe(expected);
});

test('an empty sequence has none', () => {
  expect(lastIndexWhere([], () => true)).toBe(-1);
});
