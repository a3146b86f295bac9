import { describe, expect, test } from '@jest/globals';
import type { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import { openAfterRepairs, openOfSplice, stageStates, type SpliceMade } from './splice-stages.js';

type Step = Parameters<typeof stageStates>[0][number];
const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
const step = (stage: Step['stage'], minute: number, outcome: Step['outcome'] = 'accepted', marks: Step['marks'] = []): Step => ({ stage, station: stage === 'station-sighting' ? 'UT' : null, outcome, observedAt: at(minute), marks });
const whole = [step('preparation', 0), step('flat-strip-release', 20), step('after-forming', 30), step('station-sighting', 40)];
const made = (weldedAt: readonly string[], ...repairedAt: string[]): SpliceMade => ({ weldedAt, repairedAt });
const WELDED = made([at(10)]);

describe('a splice', () => {
  test('that went through every stage after its weld leaves nothing open, whatever the order of the list', () => {
    expect(openOfSplice(whole, WELDED)).toEqual([]);
    expect(openOfSplice([...whole].reverse(), WELDED)).toEqual([]);
    expect(stageStates([...whole].reverse(), WELDED).map(({ state }) => state)).toEqual(['accepted', 'accepted', 'accepted', 'accepted']);
  });

  test('of which nothing is on record is open in everything', () => {
    expect(openOfSplice([], made([]))).toEqual([
      'no weld of it is on record', 'preparation is missing', 'flat-strip-release is missing', 'after-forming is missing', 'station-sighting is missing',
    ]);
  });

  test('the last step of a stage decides', () => {
    const states = (minute: number): unknown => stageStates([step('after-forming', 30), step('after-forming', minute, 'held')], WELDED)[2]?.state;
    // Of two at one instant the graver one stands, whichever came in first.
    expect([states(29), states(30), states(31)]).toEqual(['accepted', 'held', 'held']);
    expect(stageStates([step('after-forming', 30, 'held'), step('after-forming', 30)], WELDED)[2]?.state).toBe('held');
    expect(openOfSplice([...whole, step('after-forming', 30, 'rejected')], WELDED)).toEqual(['after-forming is rejected']);
    expect(openOfSplice([...whole, step('after-forming', 31, 'rejected')], WELDED)).toEqual(['after-forming is rejected']);
  });

  test('accepted at a second look without being welded again stays open; welded again it has to be released again', () => {
    const looked = [...whole.filter(({ stage }) => stage !== 'flat-strip-release'), step('flat-strip-release', 12, 'rejected'), step('flat-strip-release', 20)];
    expect(openOfSplice(looked, WELDED)).toEqual(['flat-strip-release was accepted after it had been rejected, and was neither welded again nor repaired in between']);
    expect(openOfSplice(looked, made([at(10), at(15)]))).toEqual([]);
    expect(openOfSplice(looked, made([at(10), at(15), at(25)]))).toEqual(['flat-strip-release was done before the last weld, and says nothing of it']);
  });

  test('accepted at the instant of the weld, or welded again at the instant of a look, was not looked at after it', () => {
    const looked = [...whole.filter(({ stage }) => stage !== 'flat-strip-release'), step('flat-strip-release', 12, 'rejected'), step('flat-strip-release', 20)];
    for (const minute of [12, 20]) expect(openOfSplice(looked, made([at(10), at(minute)]))).toContain('flat-strip-release was accepted after it had been rejected, and was neither welded again nor repaired in between');
    expect(openOfSplice(whole, made([at(20)]))).toEqual(['flat-strip-release was done before the last weld, and says nothing of it']);
  });

  test('rejected, repaired and then accepted is made anew, by welding or by grinding; repaired before or after it is not', () => {
    const looked = [...whole, step('after-forming', 31, 'rejected'), step('after-forming', 35)];
    const words = 'after-forming was accepted after it had been rejected, and was neither welded again nor repaired in between';
    expect(openOfSplice(looked, made([at(10)], at(33)))).toEqual([]);
    for (const minute of [30, 31, 35, 36]) expect(openOfSplice(looked, made([at(10)], at(minute)))).toEqual([words]);
  });

  test('is judged at every station by itself: a hold at one is not settled by another', () => {
    const seen = (station: string, minute: number, outcome: Step['outcome'] = 'accepted'): Step => ({ ...step('station-sighting', minute, outcome), station });
    const steps = [...whole.slice(0, 3), seen('ET', 40, 'held'), seen('UT', 45)];
    expect([openOfSplice(steps, WELDED), stageStates(steps, WELDED)[3]?.state]).toEqual([['station-sighting at ET is held'], 'held']);
    expect(openOfSplice([...steps, seen('ET', 50)], WELDED)).toEqual([]);
    expect(openOfSplice([...steps, seen('hang-off', 50, 'rejected'), seen('hang-off', 51)], WELDED)).toEqual([
      'station-sighting at ET is held', 'station-sighting at hang-off was accepted after it had been rejected, and was neither welded again nor repaired in between',
    ]);
    // It does not come by that station again: once repaired, what it saw counts no more, when a later station accepts.
    expect(openOfSplice(steps, made([at(10)], at(42)))).toEqual([]);
    expect(openOfSplice(steps, made([at(10)], at(46)))).toEqual(['station-sighting at ET is held']);
  });

  test('with a reading beyond its limit tells it', () => {
    const mark = { kind: 'out-of-specification', field: 'readings[0].printed', value: '0.9', limit: 'high-low at most 0.5 mm' } as const;
    expect(openOfSplice([...whole.slice(1), step('preparation', 0, 'accepted', [mark])], WELDED)).toEqual(['preparation: 0.9, high-low at most 0.5 mm']);
  });
});

describe('a splice that was repaired', () => {
  const repair = (minute: number, ...open: string[]): RepairStateAnswer => ({
    repair: { kind: 'repair', id: 'r', version: 1, label: 'grinding at 10 mm' }, method: 'grinding', at: at(minute), doneBy: 'p', on: [], isClosed: open.length === 0, open,
  });

  test('and looked at again since stands by what was seen then', () => {
    expect(openAfterRepairs(whole, [])).toEqual([]);
    expect(openAfterRepairs(whole, [repair(50)])).toEqual([]);
  });

  test('is open in what the repair asks for, and in the stages gone through before it or at its instant', () => {
    expect(openAfterRepairs(whole, [repair(30, 'not looked at')])).toEqual([
      `grinding at 10 mm of ${at(30)}: not looked at`,
      `flat-strip-release was done before the repair of ${at(30)}, and says nothing of it`, `after-forming was done before the repair of ${at(30)}, and says nothing of it`,
    ]);
    expect(openAfterRepairs([...whole, step('after-forming', 31)], [repair(30, 'not looked at')])).toHaveLength(2);
    expect(openAfterRepairs([], [repair(30, 'not looked at')])).toEqual([`grinding at 10 mm of ${at(30)}: not looked at`]);
  });

  test('more than once is held against the last repair that leaves something open', () => {
    const said = openAfterRepairs([step('after-forming', 30)], [repair(40, 'a'), repair(20, 'b'), repair(50)]);
    expect(said).toEqual([`grinding at 10 mm of ${at(40)}: a`, `grinding at 10 mm of ${at(20)}: b`, `after-forming was done before the repair of ${at(40)}, and says nothing of it`]);
  });
});
