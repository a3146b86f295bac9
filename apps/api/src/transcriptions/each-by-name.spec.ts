import { describe, expect, test } from '@jest/globals';
import { eachByName } from './each-by-name.js';

const names = (...given: string[]): [string, string][] => [...eachByName(given.map((name, index) => ({ name, index })), ({ name }) => name)].map(([name, { index }]) => [name, String(index)]);

describe('things by their names', () => {
  test('keep their order, and are counted where a name comes again', () => {
    expect(names('a', 'b', 'a', 'a')).toEqual([['a', '0'], ['b', '1'], ['a (2)', '2'], ['a (3)', '3']]);
    expect(names()).toEqual([]);
  });

  test('none is lost to a name that is written like a counted one', () => {
    expect(names('a (2)', 'a', 'a', 'a (2)')).toEqual([['a (2)', '0'], ['a', '1'], ['a (3)', '2'], ['a (2) (2)', '3']]);
  });

  test('a hundred thousand of one name take no longer than they should', () => {
    expect(eachByName(Array(100_000).fill('a'), (name) => String(name)).size).toBe(100_000);
  });
});
