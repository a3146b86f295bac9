import { describe, expect, test } from '@jest/globals';
import { pipeByState } from '#libs/evidence';
import { IntervalSet } from '#libs/intervals';
import { at, mm, planned, said, shown } from './evidence.factory.js';
import { HOLDS_KEY, holdsLine, keyOf, lineOf, linesToRelease } from './evidence-map.js';
import type { RecordTestimony, WaiverTestimony } from './record-testimony.js';

describe('a waiver', () => {
  const waived = (fromMm: number, toMm: number, clock: string, isConcession = true) => ({ ...said('waived', fromMm, toMm, 'waiver', { enteredAt: at(clock) }), isConcession });
  /** The pipe in each state that any is in, worst first. */
  const line = (words: readonly RecordTestimony[], waivers: readonly WaiverTestimony[]): string[] =>
    pipeByState(lineOf(planned('D-1'), words, waivers).stretches).filter(({ pipe }) => !pipe.isEmpty).map(({ state, pipe }) => `${state} ${pipe.toMultirange()}`);

  test('makes conceded what was missing or bad when it was given', () => {
    expect(line([], [waived(0, 400, '07:00')])).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
    expect(line([said('failed', 100, 200, 'bad')], [waived(0, 400, '07:00')])).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
  });

  test('that was agreed beforehand never makes conceded what failed, and does what was in doubt', () => {
    const before = [waived(0, 400, '07:00', false)];
    expect(line([said('failed', 100, 200, 'bad')], before).toSorted()).toEqual(['conceded {[0,100),[200,400)}', 'failed {[100,200)}', 'missing {[400,1000)}']);
    expect(line([said('failed', 100, 200, 'bad')], [...before, waived(150, 200, '07:01')]).toSorted()).toEqual(['conceded {[0,100),[150,400)}', 'failed {[100,150)}', 'missing {[400,1000)}']);
    expect(line([said('suspect', 100, 200, 'doubt')], before)).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
    expect(line([], before)).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
  });

  test('does not cover what speaks against the pipe and was entered later, and nothing beside that', () => {
    for (const says of ['failed', 'suspect'] as const) {
      const later = said(says, 100, 200, 'later', { enteredAt: at('07:01') });
      expect(line([later], [waived(0, 400, '07:00')]).toSorted()).toEqual(['conceded {[0,100),[200,400)}', `${says} {[100,200)}`, 'missing {[400,1000)}'].toSorted());
      // Given again with that known, it does.
      expect(line([later], [waived(0, 400, '07:00'), waived(100, 200, '07:02')])).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
    }
  });

  test('of the very instant of what speaks against it covers that', () => {
    expect(line([said('failed', 100, 200, 'same', { enteredAt: at('07:00') })], [waived(0, 400, '07:00')])).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
  });

  test('still covers what is shown provisionally later, and what no record says', () => {
    expect(line([said('provisional', 0, 1_000, 'run', { enteredAt: at('08:00') })], [waived(0, 400, '07:00')])).toEqual(['provisional {[400,1000)}', 'conceded {[0,400)}']);
    expect(line([said('suspect', 100, 200, 'none', { enteredAt: null, records: [] })], [waived(0, 400, '07:00')])).toEqual(['missing {[400,1000)}', 'conceded {[0,400)}']);
  });

  test('changes nothing of what is shown', () => {
    expect(line([said('confirmed', 0, 1_000, 'good')], [waived(0, 400, '07:00')])).toEqual(['confirmed {[0,1000)}']);
  });
});

describe('the line of an item', () => {
  test('does not depend on the order in which records were read', () => {
    const all = [
      said('confirmed', 0, 500, 'b'), said('confirmed', 0, 500, 'a'), said('confirmed', 0, 500, 'a', { because: 'Another reason' }), said('suspect', 0, 500, 'a'), said('confirmed', 0, 400, 'z'),
      said('failed', 200, 300, 'c'), said('confirmed', 600, 700, 'b', { records: [{ kind: 'weld', id: 'b', version: 2, label: 'B' }] }), said('confirmed', 600, 700, 'b'),
    ];
    const waivers = ['w2', 'w1'].map((id) => ({ ...said('waived', 0, 50, id, { enteredAt: at('09:00') }), isConcession: false }));
    const first = lineOf(planned('D-1'), all, waivers);
    expect(first.testimonies.map(({ records: [record], says, fromMm }) => `${fromMm} ${says} ${record?.id}${record?.version}`)).toEqual([
      '0 waived w11', '0 waived w21', '0 confirmed z1', '0 confirmed a1', '0 confirmed a1', '0 confirmed b1', '0 suspect a1', '200 failed c1', '600 confirmed b1', '600 confirmed b2',
    ]);
    for (let turn = 1; turn < all.length; turn += 1) {
      const turned = [...all.slice(turn), ...all.slice(0, turn)];
      expect(lineOf(planned('D-1'), turned, waivers.toReversed())).toEqual(first);
      expect(lineOf(planned('D-1'), turned.toReversed(), waivers)).toEqual(first);
    }
  });

  test('is the one before where the item and all that is said are the same, in whatever order', () => {
    const [of, word] = [planned('D-1'), () => [said('confirmed', 0, 500, 'a'), said('suspect', 200, 300, 'b')]];
    const before = lineOf(of, word(), []);
    expect(lineOf(of, word().toReversed(), [], before)).toBe(before);
    const others = [lineOf(planned('D-1'), word(), [], before), lineOf(of, word().slice(1), [], before), lineOf(of, [said('confirmed', 0, 501, 'a'), ...word().slice(1)], [], before)];
    expect(others.map((line) => line === before)).toEqual([false, false, false]);
    expect(shown(others[2]?.stretches ?? [])).toEqual(['confirmed 0-200 by 0', 'suspect 200-300 by 1', 'confirmed 300-501 by 0', 'missing 501-1000']);
  });

  test('has a key that two revisions with the same code do not share', () => {
    expect(keyOf(planned('D-1', 'one'))).not.toBe(keyOf(planned('D-1', 'two')));
  });
});

describe('the line of holds', () => {
  const held = (fromMm: number, toMm: number, id: string) => said('failed', fromMm, toMm, id);

  test('fails the pipe that is held, and says nothing of any other', () => {
    const { key, of, stretches, testimonies } = holdsLine([held(300, 400, 'h2'), held(100, 350, 'h1')], mm(0, 1_000));
    expect([key, of, shown(stretches)]).toEqual([HOLDS_KEY, null, ['failed 100-300 by 0', 'failed 300-350 by 0,1', 'failed 350-400 by 1']]);
    expect(testimonies.map(({ records: [record] }) => record?.id)).toEqual(['h1', 'h2']);
    expect(holdsLine([], mm(0, 1_000)).stretches).toEqual([]);
  });

  test('has only pipe that was made and not cut out', () => {
    const pipe = mm(0, 200).union(mm(300, 320));
    expect(shown(holdsLine([held(100, 5_000, 'h')], pipe).stretches)).toEqual(['failed 100-200 by 0', 'failed 300-320 by 0']);
    expect(holdsLine([held(100, 200, 'h')], IntervalSet.empty).stretches).toEqual([]);
  });

  test('has a name that no item of a plan can have', () => {
    expect(HOLDS_KEY).not.toBe(HOLDS_KEY.toUpperCase());
  });
});

test('a release is given on all lines but those that ask for one, holds among them', () => {
  const lines = [lineOf(planned('D-1'), [], []), lineOf(planned('R-1', 'plan', 'released'), [], []), holdsLine([], mm(0, 1_000))];
  expect(linesToRelease(lines).map(({ key }) => key)).toEqual(['D-1 plan', HOLDS_KEY]);
});
