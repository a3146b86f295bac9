import { describe, expect, test } from '@jest/globals';
import { checkReverseBend, checkReverseFlattening } from '#libs/tube-tests';

describe('checkReverseBend', () => {
  test.each<[number | null, boolean | null, string]>([
    [2, false, 'met'],
    [3, false, 'met'],
    [1, false, 'not met'],
    [2, true, 'not met'],
    [null, true, 'not met'],
    [0, null, 'not met'],
    [null, false, 'not recorded'],
    [2, null, 'not recorded'],
  ])('%p bends, crack %p: %s', (bends, crackAtWeld, outcome) => {
    expect(checkReverseBend({ bends, crackAtWeld }).outcome).toBe(outcome);
  });

  test('says what was done, what is demanded, and how little the source weighs', () => {
    expect(checkReverseBend({ bends: 1, crackAtWeld: false })).toMatchObject({
      found: 'bent back and forth 1 time, no crack at the weld', demanded: '2 times along the weld without cracking',
      words: 'bent back and forth 1 time, no crack at the weld; demanded: 2 times along the weld without cracking',
      source: 'a vendor\'s page with pictures of tests (of little authority)',
    });
  });

  test.each([-1, 1.5, Number.NaN])('refuses %p bends', (bends) => {
    expect(() => checkReverseBend({ bends, crackAtWeld: false })).toThrow(new RangeError(`not a number of bends: ${bends}`));
  });
});

describe('checkReverseFlattening', () => {
  test.each<[boolean | null, boolean | null, string]>([
    [true, false, 'met'], [true, true, 'not met'], [false, false, 'not met'], [null, false, 'not recorded'], [true, null, 'not recorded'],
  ])('opened flat %p, crack %p: %s', (openedFlat, crackAtWeld, outcome) => {
    expect(checkReverseFlattening({ openedFlat, crackAtWeld }).outcome).toBe(outcome);
  });

  test('in words', () => {
    expect(checkReverseFlattening({ openedFlat: false, crackAtWeld: true }).words)
      .toBe('not opened flat, cracked at the weld; demanded: opened flat without cracking at the weld');
  });
});
