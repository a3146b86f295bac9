import { expect, test } from '@jest/globals';
import { isAtJoint, jointOf } from './joint.js';

const joint = jointOf({ fromMm: 500, toMm: 700 });

test('a re-join is at both ends of what was cut out; at the lead end it has one', () => {
  expect(joint.subtract({ fromMm: 500, toMm: 700 }).toMultirange()).toBe('{[499,500),[700,701)}');
  expect(jointOf({ fromMm: 0, toMm: 10 }).subtract({ fromMm: 0, toMm: 10 }).toMultirange()).toBe('{[10,11)}');
});

test('what touches the last millimetre of a joint is at it, what leaves one free is not', () => {
  const at = (fromMm: number, toMm: number): boolean => isAtJoint({ fromMm, toMm }, joint);
  expect([at(400, 499), at(499, 500), at(600, 601), at(701, 800)]).toEqual([true, true, true, true]);
  expect([at(400, 498), at(702, 800), at(900_000, 900_010)]).toEqual([false, false, false]);
});
