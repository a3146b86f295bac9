import { describe, expect, test } from '@jest/globals';
import { checkDepth } from './body-depth.js';
import { hasDuplicateKeys } from './duplicate-keys.js';
import { KnownPaths } from './known-paths.js';
import { checkQuery } from './query-rules.js';

const nested = (levels: number): unknown => JSON.parse('['.repeat(levels) + ']'.repeat(levels));

describe('checkDepth', () => {
  test('takes nesting up to its limit and refuses more, however deep', () => {
    expect(() => { checkDepth({ a: [{ b: 1 }] }); }).not.toThrow();
    expect(() => { checkDepth(nested(33)); }).not.toThrow();
    for (const levels of [34, 100_000]) {
      expect(() => { checkDepth(nested(levels)); }).toThrow(expect.objectContaining({ status: 400 }));
    }
  });
});

describe('hasDuplicateKeys', () => {
  test.each([
    ['{}', false],
    ['{"a":1,"b":{"a":2}}', false],
    ['[{"a":1},{"a":1}]', false],
    ['{"a":"\\"b\\":","c":"d:"}', false],
    ['{"a":"\\\\","b" : 1}', false],
    ['{"a":1,"a":1}', true],
    ['{"a":1,"\\u0061":2}', true],
    ['[[{"b":{"a":1, "a" :2}}]]', true],
  ])('%s: %s', (text, expected) => {
    expect(hasDuplicateKeys(text, JSON.parse(text))).toBe(expected);
  });
});

describe('checkQuery', () => {
  test('takes each key once', () => {
    expect(() => { checkQuery({ limit: '5', after: '' }); }).not.toThrow();
  });

  test.each([
    [{ limit: ['5', '6'] }, 'limit'],
    [JSON.parse('{"__proto__":"1"}') as object, '__proto__'],
    [{ constructor: '1' }, 'constructor'],
    [{ asKnownAt: 'x'.repeat(2001) }, 'asKnownAt'],
  ])('refuses %j and names the key', (query, field) => {
    expect(() => { checkQuery(query); }).toThrow(
      expect.objectContaining({ status: 400, errors: [expect.objectContaining({ field })] }),
    );
  });
});

describe('KnownPaths', () => {
  test('tells which methods a path takes', () => {
    const paths = new KnownPaths();
    paths.add('/api/wells', ['GET']);
    paths.add('/api/wells', ['POST']);
    paths.add('/api/wells/:id', ['PATCH']);
    paths.add('/docs/*', ['GET']);
    expect(paths.methodsOf('/api/wells')).toEqual(['GET', 'POST']);
    expect(paths.methodsOf('/api/wells/7')).toEqual(['PATCH']);
    expect(paths.methodsOf('/api/wells/7/8')).toEqual([]);
    expect(paths.methodsOf('/docs/a/b.js')).toEqual(['GET']);
    expect(paths.methodsOf('/apiXwells')).toEqual([]);
  });
});
