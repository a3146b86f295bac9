import { describe, expect, test } from '@jest/globals';
import type { TestSample } from '../test-samples/test-sample.entity.js';
import { cutFrom, failureBefore, OTHER_PRODUCT, retestFlaw, SAME_PIECE, UNKNOWN_PRODUCT } from './retest-piece.js';

const tested = (id: string, outcome: 'pass' | 'fail' | 'void', followsTestId: string | null = null) => ({ id, outcome, followsTestId, testSampleId: id });
const failureOf = (id: string, ...all: ReturnType<typeof tested>[]): string | null => {
  const byId = new Map(all.map((one) => [one.id, one]));
  return failureBefore(byId.get(id)!, byId)?.id ?? null;
};

describe('the failure that a test is a retest of', () => {
  test('is the nearest, by way of what passed or was void; a test that follows no failure is none', () => {
    const chain = [tested('a', 'fail'), tested('b', 'void', 'a'), tested('c', 'pass', 'b'), tested('d', 'fail', 'c'), tested('e', 'pass', 'd')];
    expect(['a', 'b', 'c', 'd', 'e'].map((id) => failureOf(id, ...chain))).toEqual([null, 'a', 'a', 'a', 'd']);
    expect(failureOf('b', tested('a', 'pass'), tested('b', 'pass', 'a'))).toBeNull();
    expect(failureOf('a', tested('a', 'pass', 'gone'))).toBeNull();
  });

  test('is none in a circle without one', () => {
    expect(failureOf('a', tested('a', 'pass', 'b'), tested('b', 'pass', 'a'))).toBeNull();
  });
});

test('a retest is made on another piece of the same coil\'s pipe or splice', () => {
  const flaw = (failed: [string, string | null], retest: [string, string | null]): string | null =>
    retestFlaw({ sampleId: failed[0], cutFrom: failed[1] }, { sampleId: retest[0], cutFrom: retest[1] });
  expect(flaw(['1', 'coil a'], ['2', 'coil a'])).toBeNull();
  expect(flaw(['1', 'coil a'], ['1', 'coil a'])).toBe(SAME_PIECE);
  expect(flaw(['1', null], ['1', null])).toBe(SAME_PIECE);
  expect(flaw(['1', 'coil a'], ['2', 'coil b'])).toBe(OTHER_PRODUCT);
  expect(flaw(['1', 'coil a'], ['2', 'splice a'])).toBe(OTHER_PRODUCT);
  expect([flaw(['1', null], ['2', 'coil a']), flaw(['1', 'coil a'], ['2', null]), flaw(['1', null], ['2', null])]).toEqual([UNKNOWN_PRODUCT, UNKNOWN_PRODUCT, UNKNOWN_PRODUCT]);
});

test('a sample was cut from the coil or splice that it names, or the coil whose pipe holds its footage', () => {
  const segments = [{ coilId: 'a', span: { fromMm: 0, toMm: 100 } }, { coilId: 'b', span: { fromMm: 100, toMm: 200 } }];
  const from = (place: Partial<TestSample>): string | null =>
    cutFrom({ coilId: null, spliceId: null, footageMm: null, stopFootageMm: null, stopSide: null, ...place } as TestSample, segments);
  expect([from({ coilId: 'c' }), from({ spliceId: 's' })]).toEqual(['coil c', 'splice s']);
  expect([from({ footageMm: 99 }), from({ footageMm: 100 }), from({ footageMm: 200 })]).toEqual(['coil a', 'coil b', null]);
  expect([from({ stopFootageMm: 100, stopSide: 'before' }), from({ stopFootageMm: 100, stopSide: 'after' })]).toEqual(['coil a', 'coil b']);
});
