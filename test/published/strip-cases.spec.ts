import { describe, expect, test } from '@jest/globals';
import { ALL_STRIP_CASES, STRIP_SUBJECTS } from './strip-cases.js';

describe('the published cases of strip', () => {
  test('no two have one id', () => {
    const ids = ALL_STRIP_CASES.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('each belongs to exactly one spec, which fails on a case it has no check for', () => {
    const subjects = Object.values(STRIP_SUBJECTS);
    const wrong = ALL_STRIP_CASES.filter(({ id }) => subjects.filter((pattern) => pattern.test(id)).length !== 1);
    expect(wrong.map(({ id }) => id)).toEqual([]);
    expect(ALL_STRIP_CASES.length).toBeGreaterThan(0);
  });

  test('each expects something', () => {
    expect(ALL_STRIP_CASES.filter(({ expected }) => expected.length === 0)).toEqual([]);
  });
});
