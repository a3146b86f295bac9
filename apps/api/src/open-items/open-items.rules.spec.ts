import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { byAge, isCutOut, openOfHandover, openOfInspection, openOfRejoin, openOfSplice } from './open-items.rules.js';

test('a splice is open until it was accepted and its place seen', () => {
  const of = (verdict: 'open' | 'accepted' | 'in-doubt' | 'rejected', confirmed: boolean, doubt: string | null = null) => openOfSplice({ verdict, confirmed, doubt });
  expect(of('accepted', true)).toBeNull();
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
  const items = ['Gauge away', 'Splice S-3'].map((words) => ({ words, about: null, footageMm: null }));
  const open = (...said: { item: number; accepted: boolean; words: string | null }[]) => openOfHandover({ items }, { items: said }).map(({ words }) => words);

  test('is open while nobody accepted the handover, and when it was refused', () => {
    expect(openOfHandover({ items }, null).map(({ words }) => words)).toEqual(['Gauge away (handed over, accepted by nobody)', 'Splice S-3 (handed over, accepted by nobody)']);
    expect(open({ item: 2, accepted: false, words: 'Where?' }, { item: 1, accepted: true, words: null })).toEqual(['Splice S-3 (refused: Where?)']);
    expect(open({ item: 1, accepted: true, words: null }, { item: 2, accepted: true, words: null })).toEqual([]);
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
