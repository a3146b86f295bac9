import { expect, test } from '@jest/globals';
import { ageWords } from './picture-words.js';

test('an age is told in minutes, in hours, and from two days on in days', () => {
  expect([0, 59, 60, 125, 2_879, 2_880, 4_319].map(ageWords)).toEqual(['0 min', '59 min', '1 h 00 min', '2 h 05 min', '47 h 59 min', '2 days', '2 days']);
});
