import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { byAge, isCutOut, isHandedOn, openOfHandover, openOfInspection, openOfRejoin, openOfSplice } from './open-items.rules.js';

test('a splice is open until it was accepted and its place seen', () => {
  const of = (verdict: 'open' | 'accepted' | 'in-doubt' | 'rejected', confirmed: boolean, doubt: string | null = null, predicted = false) => openOfSplice({ verdict, confirmed, predicted, doubt });
  expect(of('accepted', true)).toBeNull();
  // A place given by a station upstream is a prediction, whatever is said of it.
  expect(of('accepted', true, null, true)).toBe('its place is predicted, and was not confirmed');
  expect(of('accepted', false)).toBe('its place is predicted, and was not confirmed');
  expect(of('open', true)).toBe('no verdict yet');
  expect(of('rejected', true)).toBe('rejected');
  expect(of('in-doubt', false, 'Film unclear')).toBe('in doubt: Film unclear; its place is predicted, and was not confirmed');
});

test('a re-join is open until it was accepted', () => {
  expect((['accepted', 'open', 'rejected'] as const).map((verdict) => openOfRejoin({ verdict }))).toEqual([null, 'no verdict yet', 'rejected']);
});

test('an inspection says what it found', () => {
  expect(openOfInspection({ verdict: 'rejected', characteristic: 'wall thickness', value: '4.61', unit: 'mm' })).toBe('wall thickness 4.61 mm: rejected');
  expect(openOfInspection({ verdict: 'for-evaluation', characteristic: 'seam', value: null, unit: null })).toBe('seam: for evaluation');
});

describe('an item of a handover', () => {
  /** Taken over and handed on, so that what was accepted is no more. */
  const ON = { takenOverBy: 'Ilka Brandt', isHandedOn: true, isSettled: () => false };
  const items = ['Gauge away', 'Splice S-3'].map((words) => ({ words, about: null, footageMm: null }));
  const open = (...said: { item: number; accepted: boolean; words: string | null }[]) => openOfHandover({ items }, { items: said }, ON).map(({ words }) => words);

  test('is open while nobody accepted the handover, and when it was refused', () => {
    expect(openOfHandover({ items }, null, ON).map(({ words }) => words)).toEqual(['Gauge away (handed over, accepted by nobody)', 'Splice S-3 (handed over, accepted by nobody)']);
    expect(open({ item: 2, accepted: false, words: 'Where?' }, { item: 1, accepted: true, words: null })).toEqual(['Splice S-3 (refused: Where?)']);
    expect(open({ item: 1, accepted: true, words: null }, { item: 2, accepted: true, words: null })).toEqual([]);
  });

  test('that was taken over stays until it is settled or handed on', () => {
    const said = { items: [{ item: 1, accepted: true, words: null }, { item: 2, accepted: true, words: null }] };
    const left = (changes: object): string[] => openOfHandover({ items }, said, { ...ON, isHandedOn: false, ...changes }).map(({ words }) => words);
    expect(left({})).toEqual(['Gauge away (taken over by Ilka Brandt, not settled)', 'Splice S-3 (taken over by Ilka Brandt, not settled)']);
    expect(left({ isSettled: ({ words }: { words: string }) => words === 'Gauge away' })).toEqual(['Splice S-3 (taken over by Ilka Brandt, not settled)']);
    expect(left({ isHandedOn: true })).toEqual([]);
  });

  test('is handed on by the shift that took it over, after it did', () => {
    const given = (shiftId: string, hour: number, nextShiftId: string | null = null) => ({ id: `${shiftId}${hour}`, shiftId, nextShiftId, observedAt: `2026-03-02T${hour}:00:00.000000Z` });
    const on = (nextShiftId: string | null, later: ReturnType<typeof given>): boolean => isHandedOn(given('day', 13, nextShiftId), '2026-03-02T14:00:00.000000Z', [given('day', 13, nextShiftId), later]);
    expect([on('late', given('late', 21)), on('late', given('other', 21)), on('late', given('late', 14))]).toEqual([true, false, false]);
    expect([on(null, given('any', 21)), on(null, given('day', 21))]).toEqual([true, false]);
  });

  test('to which nothing was said is not taken for accepted', () => {
    expect(open({ item: 1, accepted: true, words: null })).toEqual(['Splice S-3 (refused: )']);
  });
});

test('a place is cut out when all of it is; without a place nothing is', () => {
  const cutOut = IntervalSet.from([{ fromMm: 100, toMm: 200 }, { fromMm: 300, toMm: 400 }]);
  expect(isCutOut([{ fromMm: 100, toMm: 200 }], cutOut)).toBe(true);
  expect(isCutOut([{ fromMm: 120, toMm: 130 }, { fromMm: 399, toMm: 400 }], cutOut)).toBe(true);
  expect(isCutOut([{ fromMm: 199, toMm: 201 }], cutOut)).toBe(false);
  expect(isCutOut([], cutOut)).toBe(false);
  expect(isCutOut([{ fromMm: 1, toMm: 2 }], IntervalSet.empty)).toBe(false);
});

test('the oldest comes first', () => {
  const one = (since: string, id: string) => ({ since, record: { id } });
  const [early, late, lateToo] = [one('2026-03-02T08:00:00.000000Z', 'c'), one('2026-03-02T08:00:00.000001Z', 'a'), one('2026-03-02T08:00:00.000001Z', 'b')];
  expect([lateToo, late, early].sort(byAge)).toEqual([early, late, lateToo]);
});
