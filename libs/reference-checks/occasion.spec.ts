import { describe, expect, test } from '@jest/globals';
import { type Change, FOUR_HOURLY, type InspectionRun, type OccasionRule, type ReferenceCheck, unmetOccasions } from '#libs/reference-checks';
import { atHour, check, HOUR_US, run } from './reference-checks.factory.js';

function unmet(runs: readonly InspectionRun[], checks: readonly ReferenceCheck[], { changes = [], rule = FOUR_HOURLY, nowHour = 24 }: { changes?: Change[]; rule?: OccasionRule; nowHour?: number } = {}) {
  return unmetOccasions(runs, checks, changes, rule, atHour(nowHour)).map(({ occasion, dueUs, state, check: late }) => [occasion, dueUs / HOUR_US, state, late?.id ?? null]);
}

const change = (hour: number, kind: Change['kind'] = 'operator'): Change => ({ id: `change ${hour}`, kind, atUs: atHour(hour) });

describe('occasions for a check', () => {
  test('met exactly in time are not told of', () => {
    expect(unmet([run(0, 8, 0, 1000)], [check(0), check(4), check(8)])).toEqual([]);
  });

  test('start: none, or one that came only while the run went on', () => {
    expect(unmet([run(0, 3, 0, 1000)], [check(3)])).toEqual([['start', 0, 'late', 'check 3']]);
    expect(unmet([run(0, 3, 0, 1000)], [check(3.5)], { rule: { ...FOUR_HOURLY, graceUs: HOUR_US } })).toEqual([['start', 0, 'missing', null]]);
  });

  test('start: one long ago, or one amid the run before, does not stand for it', () => {
    expect(unmet([run(10, 12, 0, 1000)], [check(6), check(10.5), check(12)])).toEqual([['interval', 10, 'late', 'check 10.5']]);
    expect(unmet([run(10, 12, 0, 1000)], [check(5.9), check(12)])).toEqual([['start', 10, 'late', 'check 12']]);
    expect(unmet([run(0, 3, 0, 500), run(4, 6, 500, 1000)], [check(0), check(3), check(6)])).toEqual([]);
    expect(unmet([run(0, 3, 0, 500), run(4, 6, 500, 1000)], [check(0), check(2.9), check(6)])).toEqual([['end', 3, 'late', 'check 6'], ['start', 4, 'late', 'check 6']]);
  });

  test('at most four hours between checks, told once for each stretch that was too long', () => {
    expect(unmet([run(0, 10, 0, 1000)], [check(0), check(4.5), check(8), check(10)])).toEqual([['interval', 4, 'late', 'check 4.5']]);
    expect(unmet([run(0, 20, 0, 1000)], [check(0), check(13), check(20)])).toEqual([['interval', 4, 'late', 'check 13'], ['interval', 17, 'late', 'check 20']]);
  });

  test('counted from the check before the start', () => {
    expect(unmet([run(3, 5, 0, 1000)], [check(0), check(5)])).toEqual([['interval', 4, 'late', 'check 5']]);
  });

  test('end: late or missing, with the time that the rule grants', () => {
    const rule = { ...FOUR_HOURLY, graceUs: HOUR_US / 2 };
    expect(unmet([run(0, 3, 0, 1000)], [check(0), check(3.5)], { rule })).toEqual([]);
    expect(unmet([run(0, 3, 0, 1000)], [check(0), check(3.6)], { rule })).toEqual([['end', 3.5, 'late', 'check 3.6']]);
    expect(unmet([run(0, 3, 0, 1000)], [check(0)], { rule })).toEqual([['end', 3.5, 'missing', null]]);
    expect(unmet([run(0, 3, 0, 1000)], [check(0)], { rule, nowHour: 3.5 })).toEqual([]);
  });

  test('a run that goes on has no end yet, and is overdue by what time it is', () => {
    const going = run(0, 3, 0, 1000, { ended: false });
    expect(unmet([going], [check(0)], { nowHour: 4 })).toEqual([]);
    expect(unmet([going], [check(0)], { nowHour: 4.1 })).toEqual([['interval', 4, 'missing', null]]);
  });

  test('what is later than the instant asked about plays no part', () => {
    expect(unmet([run(0, 10, 0, 1000), run(11, 12, 0, 100)], [check(0), check(5)], { nowHour: 4.5, changes: [change(4.6)] })).toEqual([['interval', 4, 'missing', null]]);
  });

  test('a change of operator or set-up asks for a check at once, or before a later run', () => {
    const [during, after] = [change(2), change(5, 'set-up')];
    const runs = [run(0, 4, 0, 500), run(6, 8, 500, 1000)];
    const checks = [check(0), check(4), check(8)];
    expect(unmet(runs, [...checks, check(2), check(6)], { changes: [during, after] })).toEqual([]);
    expect(unmet(runs, [...checks, check(2.1)], { changes: [during, after] })).toEqual([['operator-change', 2, 'late', 'check 2.1'], ['set-up-change', 6, 'late', 'check 8']]);
    expect(unmet(runs, [...checks, check(6)], { changes: [change(9)] })).toEqual([]);
  });

  test('a check that failed was made; a void one was not', () => {
    expect(unmet([run(0, 3, 0, 1000)], [check(0, 'failed'), check(3, 'void')])).toEqual([['end', 3, 'missing', null]]);
  });

  test('refuse what is no instant or duration', () => {
    expect(() => unmet([], [], { nowHour: Number.NaN })).toThrow(new RangeError('asOfUs is not a whole number: NaN'));
    expect(() => unmet([], [], { rule: { ...FOUR_HOURLY, everyUs: -1 } })).toThrow(new RangeError('everyUs is not a whole number from 0: -1'));
    expect(() => unmet([], [], { rule: { ...FOUR_HOURLY, graceUs: 0.5 } })).toThrow(new RangeError('graceUs is not a whole number from 0: 0.5'));
    expect(() => unmet([], [], { changes: [{ ...change(0), atUs: 0.5 }] })).toThrow(new RangeError('change change 0: atUs is not a whole number: 0.5'));
  });
});
