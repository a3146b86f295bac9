import { describe, expect, test } from '@jest/globals';
import { IntervalSet, interval } from '#libs/intervals';
import { mm, stretch } from './evidence.factory.js';
import type { EvidenceLine } from './evidence-line.js';
import { EVIDENCE_STATES, isWorse, rankOf } from './evidence-state.js';
import type { JudgedStretch } from './judged-pipe.js';
import { pipeByState, verdictAlong, type VerdictStretch } from './verdict.js';

const PIPE = mm(0, 100);
const line = (key: string, ...stretches: JudgedStretch[]): EvidenceLine<string> => ({ key, testimonies: [], stretches });
const verdict = (fromMm: number, toMm: number, state: VerdictStretch['state'], by: readonly string[], late = false): VerdictStretch => ({ fromMm, toMm, state, late, by });

describe('the states', () => {
  test('go from the worst to the best', () => {
    expect(EVIDENCE_STATES).toEqual(['failed', 'missing', 'suspect', 'provisional', 'conceded', 'confirmed', 'not-required']);
    expect(EVIDENCE_STATES.map(rankOf)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  });

  test('are worse than those after them, and not than themselves', () => {
    expect([isWorse('failed', 'missing'), isWorse('missing', 'failed'), isWorse('missing', 'missing')]).toEqual([true, false, false]);
  });
});

describe('the verdict', () => {
  test.each(EVIDENCE_STATES.slice(1).map((better, nth) => [EVIDENCE_STATES[nth] as JudgedStretch['state'], better] as const))('is %s where one line is that and another is %s', (worse, better) => {
    const [one, other] = [line('one', stretch(0, 100, worse)), line('other', stretch(0, 100, better))];
    expect(verdictAlong(PIPE, [one, other])).toEqual([verdict(0, 100, worse, ['one'])]);
    expect(verdictAlong(PIPE, [other, one])).toEqual([verdict(0, 100, worse, ['one'])]);
  });

  test('names all lines that come to it, in their order', () => {
    const lines = [line('b', stretch(0, 100, 'suspect')), line('c', stretch(0, 100, 'confirmed')), line('a', stretch(0, 100, 'suspect'))];
    expect(verdictAlong(PIPE, lines)).toEqual([verdict(0, 100, 'suspect', ['b', 'a'])]);
  });

  test('is missing where no line says what the pipe needs, and names none', () => {
    expect(verdictAlong(PIPE, [])).toEqual([verdict(0, 100, 'missing', [])]);
    expect(verdictAlong(PIPE, [line('one', stretch(20, 60, 'confirmed'))])).toEqual([verdict(0, 20, 'missing', []), verdict(20, 60, 'confirmed', ['one']), verdict(60, 100, 'missing', [])]);
  });

  test('goes by the lines that there are where another ends', () => {
    expect(verdictAlong(PIPE, [line('short', stretch(0, 50, 'failed')), line('long', stretch(0, 100, 'confirmed'))])).toEqual([verdict(0, 50, 'failed', ['short']), verdict(50, 100, 'confirmed', ['long'])]);
  });

  test('is late where any line is, whichever decides', () => {
    const lines = [line('decides', stretch(0, 100, 'suspect')), line('late', stretch(0, 50, 'confirmed', { late: true }), stretch(50, 100, 'confirmed'))];
    expect(verdictAlong(PIPE, lines)).toEqual([verdict(0, 50, 'suspect', ['decides'], true), verdict(50, 100, 'suspect', ['decides'])]);
  });

  test('is one stretch where lines part pipe and it comes to the same', () => {
    const lines = [line('one', stretch(0, 30, 'confirmed', { by: [0] }), stretch(30, 100, 'confirmed', { by: [1] })), line('other', stretch(0, 60, 'not-required'), stretch(60, 100, 'confirmed'))];
    expect(verdictAlong(PIPE, lines)).toEqual([verdict(0, 60, 'confirmed', ['one']), verdict(60, 100, 'confirmed', ['one', 'other'])]);
  });

  test('is asked of its pipe alone, and apart where pipe was cut out', () => {
    const pipe = IntervalSet.of(interval(10, 20), interval(30, 40));
    expect(verdictAlong(pipe, [line('one', stretch(0, 100, 'confirmed'))])).toEqual([verdict(10, 20, 'confirmed', ['one']), verdict(30, 40, 'confirmed', ['one'])]);
    expect(verdictAlong(IntervalSet.empty, [line('one', stretch(0, 100, 'confirmed'))])).toEqual([]);
  });
});

describe('pipe by its state', () => {
  test('has every state, worst first, with all pipe that is in it', () => {
    const found = pipeByState([stretch(0, 10, 'confirmed'), stretch(10, 20, 'failed'), stretch(20, 30, 'confirmed', { late: true }), stretch(30, 40, 'confirmed')]);
    expect(found.map(({ state, pipe }) => [state, pipe.toMultirange()])).toEqual([
      ['failed', '{[10,20)}'], ['missing', '{}'], ['suspect', '{}'], ['provisional', '{}'], ['conceded', '{}'], ['confirmed', '{[0,10),[20,40)}'], ['not-required', '{}'],
    ]);
  });
});
