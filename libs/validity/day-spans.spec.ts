import { describe, expect, test } from '@jest/globals';
import { gapsBefore, joinedSpans, neighbours, spanAt } from './day-spans.js';

const span = (from: number, to: number) => ({ from, to });

describe('joined spans', () => {
  test('touch no other: neighbouring days are one span', () => {
    expect(joinedSpans([span(8, 9), span(1, 3), span(4, 5), span(2, 2)])).toEqual([span(1, 5), span(8, 9)]);
  });

  test('a span within another does not shorten it', () => {
    expect(joinedSpans([span(1, Infinity), span(2, 3)])).toEqual([span(1, Infinity)]);
    expect(joinedSpans([])).toEqual([]);
  });

  test('hold their first and last day', () => {
    const spans = [span(1, 5), span(8, 9)];
    expect([0, 1, 5, 6, 8, 9, 10].map((day) => spanAt(spans, day)?.from ?? null)).toEqual([null, 1, 1, null, 8, 8, null]);
  });

  test('have neighbours of a day between them', () => {
    expect(neighbours([span(1, 5), span(8, 9)], 6)).toEqual({ before: span(1, 5), after: span(8, 9) });
    expect(neighbours([span(1, 5)], 0)).toEqual({ before: null, after: span(1, 5) });
    expect(neighbours([], 0)).toEqual({ before: null, after: null });
  });

  test('have gaps, each from the day on which it is over', () => {
    const spans = [span(1, 5), span(8, 9), span(20, 30)];
    expect(gapsBefore(spans, 7)).toEqual([]);
    expect(gapsBefore(spans, 8)).toEqual([span(6, 7)]);
    expect(gapsBefore(spans, 40)).toEqual([span(6, 7), span(10, 19)]);
    expect(gapsBefore([], 40)).toEqual([]);
  });
});
