import { describe, expect, test } from '@jest/globals';
import { recordRef } from '../../test/fixtures/string-lengths.js';
import { elongationOf, stripMap, type CoilSegment } from './strip-map.js';

const segment: CoilSegment = {
  record: recordRef('coil-segment', 'one'),
  footage: { fromMm: 1_000, toMm: 2_010 },
  strip: { fromMm: 500, toMm: 1_500 },
  runs: 'head-first',
};

describe('a coil segment', () => {
  test('maps footage to strip, rising when run head first', () => {
    expect([1_000, 1_505, 2_010].map((mm) => stripMap(segment).at(mm))).toEqual([500, 1_000, 1_500]);
  });

  test('falls when run tail first, and inverts', () => {
    const map = stripMap({ ...segment, runs: 'tail-first' });
    expect([1_000, 1_505, 2_010].map((mm) => map.at(mm))).toEqual([1_500, 1_000, 500]);
    expect(map.inverse().at(500)).toBe(2_010);
  });

  test('ends at its ends', () => {
    expect(() => stripMap(segment).at(2_011)).toThrow(RangeError);
    expect(() => stripMap({ ...segment, strip: { fromMm: 7, toMm: 7 } })).toThrow('empty');
  });

  test.each([
    [980, false],
    [1_020, false],
    [979, true],
    [1_021, true],
  ])('%d mm of pipe from 1,000 mm of strip: suspect %s', (pipeMm, isSuspect) => {
    const found = elongationOf({ ...segment, footage: { fromMm: 0, toMm: pipeMm } });
    expect(found).toEqual({ ratio: pipeMm / 1_000, isSuspect });
  });
});
