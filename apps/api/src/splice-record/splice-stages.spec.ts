import { describe, expect, test } from '@jest/globals';
import { openOfSplice, stageStates } from './splice-stages.js';

type Step = Parameters<typeof stageStates>[0][number];
const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
const step = (stage: Step['stage'], minute: number, outcome: Step['outcome'] = 'accepted', marks: Step['marks'] = []): Step => ({ stage, outcome, observedAt: at(minute), marks });
const whole = [step('preparation', 0), step('flat-strip-release', 20), step('after-forming', 30), step('station-sighting', 40)];
const WELDED = [at(10)];

describe('a splice', () => {
  test('that went through every stage after its weld leaves nothing open, whatever the order of the list', () => {
    expect(openOfSplice(whole, WELDED)).toEqual([]);
    expect(openOfSplice([...whole].reverse(), WELDED)).toEqual([]);
    expect(stageStates([...whole].reverse()).map(({ state }) => state)).toEqual(['accepted', 'accepted', 'accepted', 'accepted']);
  });

  test('of which nothing is on record is open in everything', () => {
    expect(openOfSplice([], [])).toEqual([
      'no weld of it is on record', 'preparation is missing', 'flat-strip-release is missing', 'after-forming is missing', 'station-sighting is missing',
    ]);
  });

  test('the last step of a stage decides', () => {
    const states = (minute: number): unknown => stageStates([step('after-forming', 30), step('after-forming', minute, 'held')])[2]?.state;
    expect([states(29), states(31)]).toEqual(['accepted', 'held']);
    expect(openOfSplice([...whole, step('after-forming', 31, 'rejected')], WELDED)).toEqual(['after-forming is rejected']);
  });

  test('accepted at a second look without being welded again stays open; welded again it has to be released again', () => {
    const looked = [...whole.filter(({ stage }) => stage !== 'flat-strip-release'), step('flat-strip-release', 12, 'rejected'), step('flat-strip-release', 20)];
    expect(openOfSplice(looked, WELDED)).toEqual(['flat-strip-release was accepted after it had been rejected, and was not welded again in between']);
    expect(openOfSplice(looked, [...WELDED, at(15)])).toEqual([]);
    expect(openOfSplice(looked, [...WELDED, at(15), at(25)])).toEqual(['flat-strip-release was done before the last weld, and says nothing of it']);
  });

  test('with a reading beyond its limit tells it', () => {
    const mark = { kind: 'out-of-specification', field: 'readings[0].printed', value: '0.9', limit: 'high-low at most 0.5 mm' } as const;
    expect(openOfSplice([...whole.slice(1), step('preparation', 0, 'accepted', [mark])], WELDED)).toEqual(['preparation: 0.9, high-low at most 0.5 mm']);
  });
});
