import { expect, test } from '@jest/globals';
import { partOfSegment, wholeSegment } from './strip-doubt.js';

const segment = {
  id: 's', version: 1, span: { fromMm: 10_000, toMm: 20_000 }, stripSpan: { fromMm: 500, toMm: 10_500 },
  runs: 'head-first' as const, fromUMm: '10', toUMm: '30',
};

test('a whole segment carries the doubt of its ends', () => {
  expect(wholeSegment(segment)).toEqual({ fromMm: 10_000, toMm: 20_000, uFromMm: 10, uToMm: 30 });
});

test('a part of it carries the doubt in between', () => {
  expect(partOfSegment(segment, { fromMm: 3000, toMm: 8000 })).toEqual({ fromMm: 12_500, toMm: 17_500, uFromMm: 15, uToMm: 25 });
});

test('run tail first, the strip nearest the head is the end of the footage', () => {
  const part = partOfSegment({ ...segment, runs: 'tail-first' }, { fromMm: 0, toMm: 1500 });
  expect(part).toEqual({ fromMm: 19_000, toMm: 20_000, uFromMm: 28, uToMm: 30 });
});

test('strip that the segment was not made of is no pipe of it', () => {
  expect(partOfSegment(segment, { fromMm: 10_500, toMm: Infinity })).toBeNull();
});
