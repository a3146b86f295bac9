import { describe, expect, test } from '@jest/globals';
import { differences, type Difference, type SaidLine } from './differences.js';
import { stretch } from './evidence.factory.js';
import { EVIDENCE_STATES } from './evidence-state.js';
import type { JudgedStretch } from './judged-pipe.js';

const line = (...stretches: JudgedStretch[]): SaidLine<JudgedStretch> => ({ key: 'one', stretches });
const none: readonly SaidLine<JudgedStretch>[] = [];
const told = (found: readonly Difference<JudgedStretch>[]): unknown[] => found.map(({ key, fromMm, toMm, before, after, worse }) => [key, fromMm, toMm, before?.state ?? null, after?.state ?? null, worse]);

describe('two answers', () => {
  test('do not differ where they say the same, however it is parted and whatever decides it', () => {
    expect(differences([line(stretch(0, 100, 'confirmed', { by: [0] }))], [line(stretch(0, 50, 'confirmed', { by: [1] }), stretch(50, 100, 'confirmed', { by: [0, 2] }))])).toEqual([]);
    expect(differences(none, none)).toEqual([]);
  });

  test('differ just where they do, with both stretches whole', () => {
    const [before, after] = [stretch(0, 100, 'provisional'), [stretch(0, 40, 'provisional'), stretch(40, 60, 'confirmed'), stretch(60, 100, 'provisional')]];
    expect(differences([line(before)], [line(...after)])).toEqual([{ key: 'one', fromMm: 40, toMm: 60, before, after: after[1], worse: false }]);
  });

  test('differ where what was in time is late, or the other way round, and are not worse for it', () => {
    const [inTime, late] = [stretch(0, 100, 'confirmed'), stretch(0, 100, 'confirmed', { late: true })];
    expect(differences([line(inTime)], [line(late)])).toEqual([{ key: 'one', fromMm: 0, toMm: 100, before: inTime, after: late, worse: false }]);
    expect(differences([line(late)], [line(inTime)])).toEqual([{ key: 'one', fromMm: 0, toMm: 100, before: late, after: inTime, worse: false }]);
  });

  test('differ once for all pipe that two stretches share', () => {
    const cut = [stretch(0, 30, 'failed'), stretch(30, 100, 'failed', { by: [1] })];
    expect(told(differences([line(stretch(0, 100, 'confirmed'))], [line(...cut)]))).toEqual([['one', 0, 30, 'confirmed', 'failed', true], ['one', 30, 100, 'confirmed', 'failed', true]]);
  });

  test('are told line by line, those of the earlier answer first', () => {
    const said = (key: string, state: JudgedStretch['state']): SaidLine<JudgedStretch> => ({ key, stretches: [stretch(0, 100, state)] });
    const found = differences([said('b', 'missing'), said('a', 'missing')], [said('c', 'missing'), said('a', 'confirmed'), said('b', 'confirmed')]);
    expect(found.map(({ key }) => key)).toEqual(['b', 'a', 'c']);
  });
});

describe('a demand', () => {
  test('that came says so with nothing before it, and one that went with nothing after it', () => {
    expect(told(differences(none, [line(stretch(0, 100, 'missing'))]))).toEqual([['one', 0, 100, null, 'missing', true]]);
    expect(told(differences([line(stretch(0, 100, 'failed'))], none))).toEqual([['one', 0, 100, 'failed', null, false]]);
  });

  test('of pipe made or cut out since is told on that pipe', () => {
    expect(told(differences([line(stretch(0, 50, 'confirmed'))], [line(stretch(0, 20, 'confirmed'), stretch(30, 80, 'confirmed'))]))).toEqual([
      ['one', 20, 30, 'confirmed', null, false], ['one', 50, 80, null, 'confirmed', false],
    ]);
  });
});

describe('an answer is worse', () => {
  test.each(EVIDENCE_STATES.flatMap((before, nth) => EVIDENCE_STATES.filter((after) => after !== before && before !== 'not-required').map((after) => [before, after, EVIDENCE_STATES.indexOf(after) < nth] as const)))(
    'from %s to %s: %s', (before, after, worse) => {
      expect(told(differences([line(stretch(0, 100, before))], [line(stretch(0, 100, after))]))).toEqual([['one', 0, 100, before, after, worse]]);
    });

  test.each([['failed', true], ['missing', true], ['suspect', true], ['provisional', true], ['conceded', false], ['confirmed', false]] as const)('where nothing was asked for and pipe is %s now: %s', (after, worse) => {
    const now = [line(stretch(0, 100, after))];
    expect(told(differences(none, now))).toEqual([['one', 0, 100, null, after, worse]]);
    expect(told(differences([line(stretch(0, 100, 'not-required'))], now))).toEqual([['one', 0, 100, 'not-required', after, worse]]);
  });

  test('never where nothing is required any more', () => {
    expect(told(differences(none, [line(stretch(0, 100, 'not-required'))]))).toEqual([['one', 0, 100, null, 'not-required', false]]);
  });
});
