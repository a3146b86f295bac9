import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { EntityMetadata } from 'typeorm';
import { seedFromEnvironment } from '../../test/setup/seed.js';
import { instantFromDatabase, readerOf, writerOf } from './column-values.js';
import { instantOf } from './instant.js';

type Column = EntityMetadata['columns'][number];

const fromDatabase = (of: Column, value: unknown): unknown => readerOf(of)(value);
const toDatabase = (of: Column, value: unknown): unknown => writerOf(of)(value);
const column = (type: string, isArray = false): Column => ({ type, isArray }) as Column;

describe('nothing and arrays', () => {
  test.each(['timestamptz', 'int8', 'int8range', 'int8multirange', 'tstzrange', 'jsonb', 'text', 'numeric'])('null of %s stays null both ways', (type) => {
    for (const value of [null, undefined]) {
      expect(fromDatabase(column(type), value)).toBeNull();
      expect(toDatabase(column(type), value)).toBeNull();
    }
  });

  test('arrays and plain columns pass as they are', () => {
    for (const convert of [fromDatabase, toDatabase]) {
      expect(convert(column('uuid', true), ['a', 'b'])).toEqual(['a', 'b']);
      expect(convert(column('int8', true), ['1'])).toEqual(['1']);
      expect(convert(column('numeric'), '5.00')).toBe('5.00');
      expect(convert(column('date'), '2026-03-01')).toBe('2026-03-01');
    }
  });
});

describe('times', () => {
  test.each([
    ['2026-03-01 07:15:00+00', '2026-03-01T07:15:00.000000Z'],
    ['2026-03-01 07:15:00.5+00', '2026-03-01T07:15:00.500000Z'],
    ['2026-03-01 07:15:00.123456+00', '2026-03-01T07:15:00.123456Z'],
    ['2026-03-01 07:15:00.000001+00', '2026-03-01T07:15:00.000001Z'],
  ])('%s is %s', (printed, instant) => {
    expect(instantFromDatabase(printed)).toBe(instant);
    expect(fromDatabase(column('timestamptz'), printed)).toBe(instant);
  });

  test('a stretch of time, with and without an end', () => {
    const from = '2026-03-01T06:00:00.000000Z';
    const until = '2026-03-02T06:00:00.250000Z';
    expect(fromDatabase(column('tstzrange'), '["2026-03-01 06:00:00+00","2026-03-02 06:00:00.25+00")')).toEqual({ from, until });
    expect(fromDatabase(column('tstzrange'), '["2026-03-01 06:00:00+00",)')).toEqual({ from, until: null });
    expect(toDatabase(column('tstzrange'), { from, until })).toBe(`["${from}","${until}")`);
    expect(toDatabase(column('tstzrange'), { from, until: null })).toBe(`["${from}",)`);
    for (const text of ['empty', '(,"2026-03-02 06:00:00+00")', '(,)']) {
      expect(() => fromDatabase(column('tstzrange'), text)).toThrow(RangeError);
    }
  });
});

describe('whole millimetres', () => {
  test('arrive exactly, or not at all', () => {
    expect(fromDatabase(column('int8'), '9007199254740991')).toBe(9_007_199_254_740_991);
    expect(fromDatabase(column('int8'), '-5')).toBe(-5);
    for (const text of ['9007199254740992', '-9007199254740993', 'x']) {
      expect(() => fromDatabase(column('int8'), text)).toThrow(RangeError);
    }
    expect(() => fromDatabase(column('int8range'), '[0,9007199254740993)')).toThrow(RangeError);
  });

  test.each(['empty', '[5,)', '(,5)', '(,)'])('the span %s has no bounds to give', (text) => {
    expect(() => fromDatabase(column('int8range'), text)).toThrow(RangeError);
  });

  test('a span, and any set of them, comes back as it was', () => {
    const span = fc.tuple(fc.integer({ min: -1e9, max: 1e9 }), fc.integer({ min: 1, max: 1e9 })).map(([fromMm, length]) => ({ fromMm, toMm: fromMm + length }));
    const runs = { numRuns: 1000, ...seedFromEnvironment() };
    fc.assert(fc.property(span, (value) => {
      expect(fromDatabase(column('int8range'), toDatabase(column('int8range'), value))).toEqual(value);
    }), runs);
    fc.assert(fc.property(fc.array(span, { maxLength: 8 }), (values) => {
      const text = toDatabase(column('int8multirange'), values);
      const read = fromDatabase(column('int8multirange'), text);
      expect(toDatabase(column('int8multirange'), read)).toBe(text);
    }), runs);
    expect(toDatabase(column('int8multirange'), [])).toBe('{}');
    expect(fromDatabase(column('int8multirange'), '{[1,3),[5,9)}')).toEqual([{ fromMm: 1, toMm: 3 }, { fromMm: 5, toMm: 9 }]);
  });
});

describe('jsonb', () => {
  test('keeps digits that were sent as text, and is read whether pg parsed it or not', () => {
    const value = { readings: ['1.10', '5.00'], at: instantOf(1) };
    expect(toDatabase(column('jsonb'), value)).toBe('{"readings":["1.10","5.00"],"at":"1970-01-01T00:00:00.000001Z"}');
    expect(fromDatabase(column('jsonb'), JSON.stringify(value))).toEqual(value);
    expect(fromDatabase(column('jsonb'), value)).toEqual(value);
    expect(toDatabase(column('jsonb'), [])).toBe('[]');
  });
});
