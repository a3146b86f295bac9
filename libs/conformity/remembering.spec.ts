import { describe, expect, test } from '@jest/globals';
import { keyOfTexts, remembering } from './remembering.js';

describe('remembering', () => {
  function counted(capacity: number): { readonly answer: (given: string) => string; readonly computed: string[] } {
    const computed: string[] = [];
    const answer = remembering((given: string) => {
      computed.push(given);
      return `${given}!`;
    }, (given) => given, capacity);
    return { answer, computed };
  }

  test('computes an answer once and gives the same one again', () => {
    const { answer, computed } = counted(10);
    expect(['a', 'b', 'a', 'a'].map(answer)).toEqual(['a!', 'b!', 'a!', 'a!']);
    expect(computed).toEqual(['a', 'b']);
  });

  test('the oldest answer gives way to the one that is too many, and is computed again when asked for', () => {
    const { answer, computed } = counted(2);
    ['a', 'b', 'c', 'b', 'c', 'a'].forEach(answer);
    expect(computed).toEqual(['a', 'b', 'c', 'a']);
  });

  test('a long key is answered and not kept', () => {
    const { answer, computed } = counted(10);
    const [kept, long] = ['x'.repeat(200), 'x'.repeat(201)];
    [kept, kept, long, long].forEach(answer);
    expect(computed).toEqual([kept, long, long]);
  });

  test('texts that read the same one after another have different keys', () => {
    const keys = [['ab', 'c'], ['a', 'bc'], ['abc', ''], ['', 'abc'], ['abc', null], [null, 'abc'], ['-', 'abc'], ['2:ab', 'c']].map((texts) => keyOfTexts(...texts));
    expect(new Set(keys).size).toBe(keys.length);
  });
});
