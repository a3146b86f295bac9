import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';

describe('int8multirange text', () => {
  test('is written as PostgreSQL writes it', () => {
    expect(IntervalSet.of(interval(7, 9), interval(-1, 5)).toMultirange()).toBe('{[-1,5),[7,9)}');
    expect(IntervalSet.empty.toMultirange()).toBe('{}');
  });

  test('is read back', () => {
    expect(IntervalSet.parseMultirange('{[-1,5),[7,9)}').intervals).toEqual([interval(-1, 5), interval(7, 9)]);
    expect(IntervalSet.parseMultirange('{}').isEmpty).toBe(true);
  });

  test.each([
    ['{(,5)}', 'range has an infinite bound: (,5)'],
    ['{[1,5),[7,)}', 'range has an infinite bound: [7,)'],
    ['{(,)}', 'range has an infinite bound: (,)'],
    ['{[0,9007199254740993)}', 'bound is beyond the safe integers: 9007199254740993'],
    ['{[5,5)}', 'interval is empty: [5, 5)'],
  ])('%s has a bound that is refused', (text, message) => {
    expect(() => IntervalSet.parseMultirange(text)).toThrow(new RangeError(message));
  });

  test.each([
    '', '{', '}', '[1,5)', '{[1,5)', '[1,5)}', '{(1,5)}', '{[1,5]}', '{[1,5),}', '{[1,5)}}', '{[1,5)[7,9)}', '{[1,5)},[7,9)}',
    '{[-,5)}', '{[1.5,5)}', '{[1e3,5000)}', '{ [1,5)}', '{empty}', '{,}',
  ])('%j is not a multirange', (text) => {
    const message = `not an int8multirange as PostgreSQL prints it: ${JSON.stringify(text)}`;
    expect(() => IntervalSet.parseMultirange(text)).toThrow(new SyntaxError(message));
  });

  test('a long wrong text is quoted only in part', () => {
    const text = `{${'[1,5),'.repeat(50)}`;
    expect(() => IntervalSet.parseMultirange(text)).toThrow(text.slice(0, 80));
    expect(() => IntervalSet.parseMultirange(text)).not.toThrow(text);
  });
});
