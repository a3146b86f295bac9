import { describe, expect, test } from '@jest/globals';
import { acceptanceFaults, acceptanceFindings } from './handover-acceptance.rules.js';

const took = (...items: number[]) => items.map((item) => ({ item, accepted: true, words: null }));
const faults = (...args: Parameters<typeof acceptanceFaults>): unknown[] => acceptanceFaults(...args).map(({ field, limit }) => [field, limit]);

describe('an acceptance says something to every item, once', () => {
  test('in any order', () => {
    expect(faults(took(2, 1, 3), 3)).toEqual([]);
    expect(faults([], 0)).toEqual([]);
  });

  test('one left out, named twice or not there is told', () => {
    expect(faults(took(1), 3)).toEqual([['items', 'every item of the handover; left out: 2, 3']]);
    expect(faults(took(1, 2, 1), 2)).toEqual([['items[2].item', 'one of the items 1 to 2 of the handover, once']]);
    expect(faults(took(1, 3), 2)).toEqual([['items[1].item', 'one of the items 1 to 2 of the handover, once'], ['items', 'every item of the handover; left out: 2']]);
    expect(faults(took(1), 0)).toEqual([['items[0].item', 'no item: the handover has none']]);
  });

  test('a refusal says why', () => {
    expect(faults([{ item: 1, accepted: false, words: null }], 1)).toEqual([['items[0].words', 'why the item is not accepted']]);
    expect(faults([{ item: 1, accepted: false, words: 'Not said until when' }], 1)).toEqual([]);
  });
});

describe('an acceptance', () => {
  const at = (clock: string): string => `2026-03-02T${clock}:00.000000Z`;
  const handover = { doneBy: 'giver', keyedBy: 'giver', observedAt: at('16:50') };
  const next = { name: 'night', observedAt: at('17:00'), until: null, crew: [{ personId: 'taker', duty: 'Shift lead' }] };
  const accepting = { doneBy: 'taker', keyedBy: 'taker', observedAt: at('16:55') };
  const found = (...args: Parameters<typeof acceptanceFindings>): unknown[] => acceptanceFindings(...args).map(({ tier, field }) => [tier, field]);

  test('by one of the next crew who keyed it is as it should be; so is any while the next shift is not known', () => {
    expect(found(accepting, handover, next)).toEqual([]);
    expect(found({ ...accepting, doneBy: 'other', keyedBy: 'other' }, handover, null)).toEqual([]);
  });

  test('by somebody else, or with one hand in both papers, is marked', () => {
    expect(found({ ...accepting, doneBy: 'other' }, handover, next)).toEqual([['noted', 'doneBy']]);
    expect(found({ ...accepting, keyedBy: 'giver' }, handover, next)).toEqual([['noted', 'keyedBy']]);
    expect(found(accepting, { ...handover, keyedBy: 'taker' }, next)).toEqual([['noted', 'handoverId']]);
  });

  test('from before the handover is asked about', () => {
    expect(found({ ...accepting, observedAt: at('16:50') }, handover, next)).toEqual([]);
    expect(found({ ...accepting, observedAt: at('16:49') }, handover, next)).toEqual([['implausible', 'observedAt']]);
  });
});
