import { expect, test } from '@jest/globals';
import type { SeamEventKind } from '../seam-events/seam-event.dto.js';
import { stopsWithEnds } from './stop-ends.js';

/** Each stop by its place among the events, with that of what ended it. */
const ends = (...kinds: SeamEventKind[]): unknown[] => {
  const events = kinds.map((event, index) => ({ event, index }));
  return stopsWithEnds(events).map(({ stop, end, isRepeated }) => [stop.index, end?.index ?? null, isRepeated]);
};

test('a stop lasts until the next start or restart, whatever is set up in between', () => {
  expect(ends('start', 'stop', 'restart', 'stop', 'set-up-change', 'start')).toEqual([[1, 2, false], [3, 5, false]]);
});

test('a stop is open while nothing started again', () => {
  expect(ends('start', 'stop')).toEqual([[1, null, false]]);
  expect(ends('start', 'stop', 'set-up-change')).toEqual([[1, null, false]]);
  expect(ends('start', 'restart')).toEqual([]);
});

test('of two stops in a row the first is told to be repeated, and both end together', () => {
  expect(ends('stop', 'set-up-change', 'stop', 'restart')).toEqual([[0, 3, true], [2, 3, false]]);
  expect(ends('stop', 'stop')).toEqual([[0, null, true], [1, null, false]]);
});
