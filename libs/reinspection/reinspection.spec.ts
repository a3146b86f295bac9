import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { countsOn } from './counts-on.js';
import type { Look, RepairEvent } from './look.js';
import { reinspection } from './reinspection.js';
import { compareSensitivity } from './sensitivity.js';

const mm = (fromMm: number, toMm: number): IntervalSet => IntervalSet.of(interval(fromMm, toMm));
const notch = (sizeMm: string): Look['sensitivity'] => ({ reflector: 'notch', sizeMm });
const look = (atUs: number, on: IntervalSet, changes: Partial<Look> = {}): Look =>
  ({ atUs, on, method: 'UT', standsInFor: [], technique: 'UT-04 rev 2', sensitivity: notch('0.5'), outcome: 'accepted', seesFlaws: true, ...changes });
const repair = (atUs: number, on: IntervalSet): RepairEvent => ({ atUs, on });

const ground = repair(10, mm(100, 200));
const before = look(1, mm(0, 1_000));
const openAfter = (...since: Look[]): unknown[] =>
  reinspection(ground, [ground], [before, ...since], IntervalSet.empty).open.map(({ reason, on }) => [reason, on.toMultirange()]);

describe('a result', () => {
  test('does not count on pipe repaired since, and counts beside it', () => {
    expect(countsOn(before, [ground]).toMultirange()).toBe('{[0,100),[200,1000)}');
    expect(countsOn(look(11, mm(0, 1_000)), [ground]).toMultirange()).toBe('{[0,1000)}');
  });

  test('of the very instant of the repair is not later than it', () => {
    expect(countsOn(look(10, mm(0, 1_000)), [ground]).toMultirange()).toBe('{[0,100),[200,1000)}');
  });
});

describe('a later look is as sensitive as an earlier one', () => {
  const seen = (sensitivity: Look['sensitivity'], technique = 'UT-04 rev 2'): Look => look(1, mm(0, 1), { sensitivity, technique });

  test('with the same reflector of the same size or a smaller one, however its digits are written', () => {
    expect(compareSensitivity(seen(notch('0.50')), seen(notch('0.5')))).toBe('as-sensitive');
    expect(compareSensitivity(seen(notch('0.49')), seen(notch('0.5')))).toBe('as-sensitive');
    expect(compareSensitivity(seen(notch('0.51')), seen(notch('0.5')))).toBe('less-sensitive');
  });

  test('by the same technique in the same revision, where neither states a reflector', () => {
    expect(compareSensitivity(seen(null), seen(null))).toBe('as-sensitive');
    expect(compareSensitivity(seen(null, 'UT-04 rev 3'), seen(null))).toBe('not-stated');
  });

  test('by nothing else', () => {
    expect(compareSensitivity(seen({ reflector: 'hole', sizeMm: '0.1' }), seen(notch('0.5')))).toBe('not-comparable');
    expect(compareSensitivity(seen(null), seen(notch('0.5')))).toBe('not-stated');
    expect(compareSensitivity(seen(notch('0.5')), seen(null))).toBe('not-stated');
  });
});

describe('after a repair', () => {
  test('a look as sensitive over all of it leaves nothing open', () => {
    expect(openAfter(look(11, mm(100, 200)))).toEqual([]);
  });

  test('nothing, or a look at the same instant, leaves all of it open', () => {
    expect(openAfter()).toEqual([['not-looked-at', '{[100,200)}']]);
    expect(openAfter(look(10, mm(100, 200)))).toEqual([['not-looked-at', '{[100,200)}']]);
  });

  test('a shorter look leaves the rest open', () => {
    expect(openAfter(look(11, mm(120, 300)))).toEqual([['not-looked-at', '{[100,120)}']]);
  });

  test('another method does not stand in for the one before; the measurement of a dimension is no look for flaws', () => {
    expect(openAfter(look(11, mm(100, 200), { method: 'MT' }))).toEqual([['not-repeated', '{[100,200)}']]);
    expect(openAfter(look(11, mm(100, 200), { method: 'dimensional: wall thickness', seesFlaws: false }))).toEqual([['not-looked-at', '{[100,200)}']]);
  });

  test('another method stands in where somebody said so, for that method only', () => {
    const magnetic = look(11, mm(100, 150), { method: 'MT', standsInFor: ['UT'] });
    expect(openAfter(magnetic, look(12, mm(100, 200), { method: 'MT' }))).toEqual([['not-repeated', '{[150,200)}']]);
    expect(openAfter(look(11, mm(100, 200), { method: 'MT', standsInFor: ['RT'] }))).toEqual([['not-repeated', '{[100,200)}']]);
    // It stands in where the method itself was used again, too coarsely.
    expect(openAfter(magnetic, look(12, mm(100, 200), { sensitivity: notch('1.0') }))).toEqual([['less-sensitive', '{[150,200)}']]);
  });

  test('the best that can be said of looks since is said, millimetre by millimetre', () => {
    const coarse = look(11, mm(100, 180), { sensitivity: notch('1.0') });
    const hole = look(12, mm(100, 200), { sensitivity: { reflector: 'hole', sizeMm: '1' } });
    expect(openAfter(coarse, hole, look(13, mm(100, 120)))).toEqual([['not-comparable', '{[180,200)}'], ['less-sensitive', '{[120,180)}']]);
  });

  test('a rejection stays whatever a second look says; what was held waits for the same method', () => {
    const first = look(11, mm(100, 200), { outcome: 'rejected' });
    expect(openAfter(first, look(12, mm(100, 200)))).toEqual([['rejected', '{[100,200)}']]);
    const held = look(11, mm(100, 200), { outcome: 'held' });
    expect(openAfter(held, look(12, mm(100, 150)), look(13, mm(100, 200), { method: 'MT' }))).toEqual([['held', '{[150,200)}']]);
    // Two results of one instant disagree: neither came later.
    expect(openAfter(held, look(11, mm(100, 200)))).toEqual([['held', '{[100,200)}']]);
  });

  test('what was held is settled by the same method only when that is at least as sensitive as the look that held it', () => {
    const held = look(11, mm(100, 200), { outcome: 'held' });
    const later = (sizeMm: string, outcome: Look['outcome'] = 'accepted'): Look => look(12, mm(100, 200), { sensitivity: notch(sizeMm), outcome });
    expect(openAfter(held, later('5.0'))).toEqual([['less-sensitive', '{[100,200)}'], ['held', '{[100,200)}']]);
    expect(openAfter(held, look(12, mm(100, 200), { sensitivity: null }))).toEqual([['not-stated', '{[100,200)}'], ['held', '{[100,200)}']]);
    expect(openAfter(held, later('0.4'))).toEqual([]);
    expect(openAfter(held, later('0.5', 'rejected'))).toEqual([['rejected', '{[100,200)}']]);
    // Nor does a second hold decide: both are told.
    expect(openAfter(held, later('0.5', 'held'))).toEqual([['held', '{[100,200)}'], ['held', '{[100,200)}']]);
  });

  test('only a look that accepts meets what was used before', () => {
    const rejected = look(11, mm(100, 200), { outcome: 'rejected' });
    expect(openAfter(rejected, look(12, mm(100, 200), { sensitivity: notch('5.0') }))).toEqual([['less-sensitive', '{[100,200)}'], ['rejected', '{[100,200)}']]);
    // Held while it stood in for another; what settled it later stood in for nothing.
    const magnetic = (atUs: number, changes: Partial<Look>): Look => look(atUs, mm(100, 200), { method: 'MT', technique: 'MT-01', sensitivity: null, ...changes });
    expect(openAfter(magnetic(11, { standsInFor: ['UT'], outcome: 'held' }), magnetic(12, {}))).toEqual([['not-repeated', '{[100,200)}']]);
    expect(openAfter(magnetic(11, { standsInFor: ['UT'], outcome: 'held' }))).toEqual([['held', '{[100,200)}']]);
  });

  test('pipe that was repaired again is the later repair\'s, and pipe that was cut out is nobody\'s', () => {
    const again = repair(20, mm(150, 170));
    const between = look(15, mm(100, 200));
    const first = reinspection(ground, [ground, again], [before, between], mm(190, 400));
    expect([first.standing.toMultirange(), first.open]).toEqual(['{[100,150),[170,190)}', []]);
    expect(first.repairedAgain.map(({ it, on }) => [it, on.toMultirange()])).toEqual([[again, '{[150,170)}']]);
    const second = reinspection(again, [ground, again], [before, between], mm(190, 400));
    expect(second.noLongerCount.map(({ it }) => it)).toEqual([before, between]);
    expect(second.open.map(({ reason, on }) => [reason, on.toMultirange()])).toEqual([['not-looked-at', '{[150,170)}']]);
  });

  test('names the looks that ask and those that fall short', () => {
    const coarse = look(11, mm(100, 200), { sensitivity: notch('1.0') });
    const elsewhere = look(2, mm(500, 600));
    const [open] = reinspection(ground, [ground], [before, coarse, elsewhere], IntervalSet.empty).open;
    expect(open).toMatchObject({ before: [before], since: [coarse] });
    // Of pipe that nobody looked at since, all that was done there before.
    const visual = look(3, mm(150, 300), { method: 'VT' });
    const unseen = reinspection(ground, [ground], [before, visual, elsewhere], IntervalSet.empty).open;
    expect(unseen).toMatchObject([{ reason: 'not-looked-at', before: [before, visual], since: [] }]);
  });
});
