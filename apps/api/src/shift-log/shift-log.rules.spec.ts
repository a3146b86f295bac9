import { describe, expect, test } from '@jest/globals';
import { openOfShift, outcomeOf, outlasts, standsIn } from './shift-log.rules.js';

const at = (clock: string) => ({ observedAt: `2026-03-02T${clock}:00.000000Z` });
const shift = { ...at('06:00'), until: at('14:00').observedAt };
const running = { ...at('06:00'), until: null };
const stopped = (from: string, to: string | null) => ({ stop: at(from), end: to === null ? null : at(to), isRepeated: false });

describe('a stop is of a shift when the line stood in it', () => {
  test.each([
    ['begins and ends in it', '08:00', '09:00', true], ['began before, ends in it', '05:00', '06:01', true], ['begins in it, ends after', '13:59', '15:00', true],
    ['began before, ends after', '05:00', '15:00', true], ['began before and never ended', '05:00', null, true],
    ['ended when it began', '05:00', '06:00', false], ['begins when it ends', '14:00', '15:00', false], ['begins after', '15:00', null, false],
  ])('%s', (_, from, to, isOfIt) => {
    expect(standsIn(stopped(from, to), shift)).toBe(isOfIt);
  });

  test('of a shift that runs, every later one is', () => {
    expect(standsIn(stopped('23:00', null), running)).toBe(true);
    expect(standsIn(stopped('05:00', '05:30'), running)).toBe(false);
  });

  test('and outlasts it when the line did not run again before its end', () => {
    expect([at('13:00'), at('14:00'), at('14:01'), null].map((end) => outlasts(end, shift))).toEqual([false, false, true, true]);
    expect([at('23:00'), null].map((end) => outlasts(end, running))).toEqual([false, true]);
  });
});

describe('what is open of a shift', () => {
  const said = (...accepted: boolean[]) => ({ items: accepted.map((is, index) => ({ item: index + 1, accepted: is, words: is ? null : `no to ${index + 1}` })) });
  const handover = { ...at('13:50'), items: [] };

  test('nothing, once all that was handed over was accepted', () => {
    expect(openOfShift(shift, [{ handover, acceptance: said(true, true) }, { handover, acceptance: said() }])).toEqual([]);
  });

  test('no end, no handover, nobody who accepted, each item refused', () => {
    expect(openOfShift(running, [])).toEqual(['the shift has no end on record', 'no handover is on record']);
    expect(openOfShift(shift, [{ handover, acceptance: null }, { handover, acceptance: said(false, true, false) }])).toEqual([
      'the handover of 2026-03-02T13:50:00.000000Z was accepted by nobody',
      'item 1 of the handover of 2026-03-02T13:50:00.000000Z was refused: no to 1', 'item 3 of the handover of 2026-03-02T13:50:00.000000Z was refused: no to 3',
    ]);
  });

  test('an outcome in a word', () => {
    expect([null, said(), said(true), said(true, false)].map((acceptance) => outcomeOf({ acceptance }))).toEqual(['not-accepted', 'accepted', 'accepted', 'partly']);
  });
});
