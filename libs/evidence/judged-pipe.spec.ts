import { describe, expect, test } from '@jest/globals';
import { IntervalSet, interval } from '#libs/intervals';
import { mm, stretch, word } from './evidence.factory.js';
import { judgedPipe, type JudgedStretch } from './judged-pipe.js';
import type { Saying, Testimony } from './testimony.js';

const PIPE = mm(0, 100);
const judgedBy = (...words: Testimony<string>[]): JudgedStretch[] => judgedPipe(PIPE, words);
/** The state of pipe that each of some words is about, the whole of it. */
const stateBy = (...sayings: Saying[]): string | undefined => {
  const stretches = judgedBy(...sayings.map((says) => word(says, 0, 100)));
  return stretches.length === 1 ? stretches[0]?.state : undefined;
};

describe('pipe of which something is demanded', () => {
  test('is missing where no record says anything', () => {
    expect(judgedBy()).toEqual([stretch(0, 100, 'missing')]);
    expect(judgedBy(word('confirmed', 20, 60))).toEqual([stretch(0, 20, 'missing'), stretch(20, 60, 'confirmed', { by: [0] }), stretch(60, 100, 'missing')]);
  });

  test('is judged there alone, and once for every piece of it', () => {
    const pieces = IntervalSet.of(interval(10, 20), interval(30, 40));
    expect(judgedPipe(pieces, [word('confirmed', 0, 100)])).toEqual([stretch(10, 20, 'confirmed', { by: [0] }), stretch(30, 40, 'confirmed', { by: [0] })]);
    expect(judgedPipe(IntervalSet.empty, [word('confirmed', 0, 100)])).toEqual([]);
    expect(judgedBy(word('failed', -50, 0), word('failed', 100, 150))).toEqual([stretch(0, 100, 'missing')]);
  });

  test('takes words that lie between two pieces of it for neither', () => {
    expect(judgedPipe(IntervalSet.of(interval(10, 20), interval(30, 40)), [word('failed', 20, 30)]).map(({ state }) => state)).toEqual(['missing', 'missing']);
  });
});

describe('the words that decide', () => {
  test.each<[Saying, Saying, string]>([
    ['failed', 'suspect', 'failed'], ['failed', 'confirmed', 'failed'], ['failed', 'provisional', 'failed'], ['suspect', 'confirmed', 'suspect'], ['suspect', 'provisional', 'suspect'],
    ['confirmed', 'provisional', 'confirmed'], ['confirmed', 'awaited', 'confirmed'], ['provisional', 'awaited', 'provisional'], ['suspect', 'awaited', 'suspect'],
  ])('of %s and %s pipe is %s, whichever came first', (one, other, state) => {
    expect([stateBy(one, other), stateBy(other, one)]).toEqual([state, state]);
  });

  test('are named, all that say the state and none else, in their order', () => {
    const words = [word('confirmed', 0, 100), word('provisional', 0, 100), word('confirmed', 50, 100)];
    expect(judgedBy(...words).map(({ by }) => by)).toEqual([[0], [0, 2]]);
    expect(judgedBy(...words.toReversed()).map(({ by }) => by)).toEqual([[2], [0, 2]]);
  });

  test('leave pipe missing where nothing can be there yet, and say why', () => {
    expect(judgedBy(word('awaited', 0, 100))).toEqual([stretch(0, 100, 'missing', { by: [0] })]);
  });

  test('hold up to the millimetre before their end', () => {
    expect(judgedBy(word('confirmed', 0, 99))).toEqual([stretch(0, 99, 'confirmed', { by: [0] }), stretch(99, 100, 'missing')]);
    expect(judgedBy(word('confirmed', 1, 100)).map(({ fromMm, toMm }) => [fromMm, toMm])).toEqual([[0, 1], [1, 100]]);
  });

  test('part pipe that touches and is in one state, since other words decide there', () => {
    expect(judgedBy(word('confirmed', 0, 50), word('confirmed', 50, 100))).toEqual([stretch(0, 50, 'confirmed', { by: [0] }), stretch(50, 100, 'confirmed', { by: [1] })]);
  });

  test('do not part it where a word that decides nothing begins or ends', () => {
    expect(judgedBy(word('confirmed', 0, 100), word('provisional', 30, 40), word('waived', 60, 70), word('awaited', 80, 90))).toEqual([stretch(0, 100, 'confirmed', { by: [0] })]);
  });
});

describe('a waiver', () => {
  test.each<[Saying, string]>([['failed', 'failed'], ['suspect', 'suspect'], ['provisional', 'provisional'], ['awaited', 'missing']])('makes conceded what %s makes %s, and says that it would be', (says, otherwise) => {
    expect(judgedBy(word(says, 0, 100), word('waived', 0, 100))).toEqual([stretch(0, 100, 'conceded', { otherwise: otherwise as JudgedStretch['otherwise'], by: [1] })]);
  });

  test('makes conceded what nobody looked at', () => {
    expect(judgedBy(word('waived', 0, 100))).toEqual([stretch(0, 100, 'conceded', { otherwise: 'missing', by: [0] })]);
  });

  test('adds nothing to what is confirmed', () => {
    expect(stateBy('confirmed', 'waived')).toBe('confirmed');
  });

  test('counts again once confirmed pipe is in doubt', () => {
    expect(judgedBy(word('confirmed', 0, 100), word('waived', 0, 100), word('suspect', 0, 50))).toEqual([
      stretch(0, 50, 'conceded', { otherwise: 'suspect', by: [1] }), stretch(50, 100, 'confirmed', { by: [0] }),
    ]);
  });

  test('parts conceded pipe where it would be something else without', () => {
    expect(judgedBy(word('waived', 0, 100), word('failed', 50, 100)).map(({ state, otherwise }) => [state, otherwise])).toEqual([['conceded', 'missing'], ['conceded', 'failed']]);
  });
});

describe('pipe is late', () => {
  test.each<Saying>(['failed', 'suspect', 'provisional', 'confirmed', 'waived'])('below the footage that had not passed the hang-off when what says that it is %s was entered', (says) => {
    expect(judgedBy(word(says, 0, 100, 40)).map(({ fromMm, toMm, late, by }) => [fromMm, toMm, late, by])).toEqual([[0, 40, true, [0]], [40, 100, false, [0]]]);
  });

  test('all of it or none where the hang-off lay beyond the word', () => {
    expect(judgedBy(word('confirmed', 0, 100, 100))).toEqual([stretch(0, 100, 'confirmed', { late: true, by: [0] })]);
    expect(judgedBy(word('confirmed', 0, 100, 5_000))).toEqual([stretch(0, 100, 'confirmed', { late: true, by: [0] })]);
    expect(judgedBy(word('confirmed', 0, 100, -5))).toEqual([stretch(0, 100, 'confirmed', { by: [0] })]);
  });

  test('only where every word that makes its state came late', () => {
    expect(judgedBy(word('confirmed', 0, 100, 100), word('confirmed', 0, 100, 40))).toEqual([
      stretch(0, 40, 'confirmed', { late: true, by: [0, 1] }), stretch(40, 100, 'confirmed', { by: [0, 1] }),
    ]);
    expect(judgedBy(word('waived', 0, 100, 100), word('waived', 0, 100))).toEqual([stretch(0, 100, 'conceded', { otherwise: 'missing', by: [0, 1] })]);
  });

  test('by the words that make its state, whatever came in time beside them', () => {
    expect(judgedBy(word('provisional', 0, 100), word('confirmed', 0, 100, 100))).toEqual([stretch(0, 100, 'confirmed', { late: true, by: [1] })]);
    expect(judgedBy(word('provisional', 0, 100, 100), word('confirmed', 0, 100))).toEqual([stretch(0, 100, 'confirmed', { by: [1] })]);
    expect(judgedBy(word('failed', 0, 100), word('waived', 0, 100, 100))).toEqual([stretch(0, 100, 'conceded', { late: true, otherwise: 'failed', by: [1] })]);
  });

  test('never while it is missing: nothing came', () => {
    expect(judgedBy(word('awaited', 0, 100, 100))).toEqual([stretch(0, 100, 'missing', { by: [0] })]);
  });
});
