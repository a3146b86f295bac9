import { describe, expect, test } from '@jest/globals';
import { ratio } from '#libs/exact';
import { isApart, isEmpty, isWithin, type Zone } from './zone.js';

/** `[1,2]` with round brackets for open ends and nothing for an end that is not there: `(,2]`. */
function zone(text: string): Zone {
  const [, left, low = '', high = '', right] = /^([[(])(\d*),(\d*)([\])])$/.exec(text)!;
  const end = (digits: string) => (digits === '' ? null : ratio(BigInt(digits)));
  return { low: end(low), high: end(high), lowOpen: left === '(', highOpen: right === ')' };
}

describe('zones', () => {
  test.each([
    ['[1,1]', false], ['[1,1)', true], ['(1,1]', true], ['[2,1]', true], ['[,1)', false], ['(1,]', false], ['[,]', false],
  ])('%s is empty: %p', (text, expected) => {
    expect(isEmpty(zone(text))).toBe(expected);
  });

  test.each([
    ['[1,2]', '[1,2]', true],
    ['[1,2]', '(1,2]', false],
    ['[1,2]', '[1,2)', false],
    ['(1,2)', '(1,2)', true],
    ['(1,2]', '[1,2]', true],
    ['[1,3]', '[1,2]', false],
    ['[0,2]', '[1,2]', false],
    ['[,2]', '[1,2]', false],
    ['[1,]', '[1,2]', false],
    ['[1,]', '[1,]', true],
    ['[5,5]', '[,]', true],
    ['[1,1]', '[2,1]', false],
  ])('%s lies in %s: %p', (inner, outer, expected) => {
    expect(isWithin(zone(inner), zone(outer))).toBe(expected);
  });

  test.each([
    ['[1,2]', '[2,3]', false],
    ['[1,2)', '[2,3]', true],
    ['[1,2]', '(2,3]', true],
    ['[2,3]', '[1,2)', true],
    ['[,2]', '[3,]', true],
    ['[,2]', '[1,]', false],
    ['[1,5]', '[4,3]', true],
  ])('%s and %s have nothing in common: %p', (a, b, expected) => {
    expect(isApart(zone(a), zone(b))).toBe(expected);
  });
});
