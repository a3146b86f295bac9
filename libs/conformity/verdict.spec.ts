import { describe, expect, test } from '@jest/globals';
import { VERDICTS, worst } from '#libs/conformity';

describe('worst', () => {
  test('is the last one in the order of the list, in whatever order they come', () => {
    expect(worst(['conforms'])).toBe('conforms');
    expect(worst(['inside-guard-band', 'conforms'])).toBe('inside-guard-band');
    expect(worst(['not-reported', 'not-comparable', 'conforms'])).toBe('not-reported');
    expect(worst(VERDICTS)).toBe('does-not-conform');
    expect(worst(new Set(['does-not-conform', 'not-reported'] as const))).toBe('does-not-conform');
  });

  test('of none is refused', () => {
    expect(() => worst([])).toThrow(new RangeError('there is no verdict to take the worst of'));
  });
});
