import { expect, test } from '@jest/globals';
import { footageOfStrip, stripMapOf } from './strip-footage.js';

const segment = {
  id: 's', version: 1, span: { fromMm: 10_000, toMm: 20_100 }, stripSpan: { fromMm: 500, toMm: 10_500 }, runs: 'tail-first' as const,
};

test('run tail first, the strip position falls as the footage rises', () => {
  expect([10_000, 20_100].map((mm) => stripMapOf(segment).at(mm))).toEqual([10_500, 500]);
});

test('a part of the strip, by the elongation of the segment; neighbours stay neighbours', () => {
  const [far, near] = [footageOfStrip(segment, { fromMm: 0, toMm: 3333 }), footageOfStrip(segment, { fromMm: 3333, toMm: Infinity })];
  expect([near?.fromMm, far?.toMm]).toEqual([10_000, 20_100]);
  expect(near?.toMm).toBe(far?.fromMm);
  // 20100 − 2833 · 1.01
  expect(far?.fromMm).toBe(17_239);
  expect(footageOfStrip(segment, { fromMm: 10_500, toMm: 11_000 })).toBeNull();
});
