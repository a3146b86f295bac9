import { describe, expect, test } from '@jest/globals';
import type { SeamEventKind } from './seam-event.dto.js';
import { orderOfLine } from './event-order.js';

/** Events as `[minute, kind]`, ids in the order in which they were keyed; the answer is their places from 1. */
const orderOf = (...given: [number, SeamEventKind][]): string => {
  const events = given.map(([minute, event], index) => ({ id: String(index + 1), event, observedAt: `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z` }));
  return orderOfLine(events).map(({ id }) => id).join('');
};

describe('events of one minute', () => {
  test('a line that ran stops and runs again, whichever was keyed first', () => {
    expect(orderOf([0, 'start'], [5, 'restart'], [5, 'stop'])).toBe('132');
    expect(orderOf([0, 'start'], [5, 'stop'], [5, 'restart'])).toBe('123');
  });

  test('a line that stood runs and stops again', () => {
    expect(orderOf([0, 'start'], [3, 'stop'], [5, 'stop'], [5, 'restart'])).toBe('1243');
  });

  test('before all others the line ran, unless it starts in that minute', () => {
    expect(orderOf([5, 'restart'], [5, 'stop'])).toBe('21');
    expect(orderOf([5, 'stop'], [5, 'start'])).toBe('21');
  });

  test('two stops and restarts take turns; what leaves the line as it is comes by its id', () => {
    expect(orderOf([0, 'start'], [5, 'restart'], [5, 'restart'], [5, 'stop'], [5, 'stop'])).toBe('14253');
    expect(orderOf([0, 'start'], [5, 'restart'], [5, 'restart'])).toBe('123');
    expect(orderOf([0, 'start'], [5, 'set-up-change'], [5, 'restart'], [5, 'stop'])).toBe('1243');
  });

  test('others are by their times, whatever they are', () => {
    expect(orderOf([5, 'stop'], [4, 'restart'], [3, 'stop'], [2, 'start'])).toBe('4321');
    expect(orderOf()).toBe('');
  });
});
