import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { CounterPeriodVersion } from '../line/counter-period.entity.js';
import { frozenText, thawed } from '../releases/frozen-evidence.js';
import { at, mm, planned, said, shown } from './evidence.factory.js';
import { holdsLine, lineOf, mapOf, type EvidenceMap, type MapLine } from './evidence-map.js';
import { footageRestsOn, freeze } from './freeze.js';

const US = (clock: string): number => Date.parse(at(clock)) * 1000;
const period = (id: string, clock: string, counter = 'M'): CounterPeriodVersion => Object.assign(new CounterPeriodVersion(), { id, version: 3, counter, observedAt: at(clock) });

/** A metre made from six to eight, five hundred millimetres by seven. */
const model = (periods: readonly CounterPeriodVersion[]): EvidenceMap['ground']['model'] => ({
  string: { masterCounter: 'M' }, records: { periods },
  lengths: { lengths: { weldFootage: [['06:00', 0], ['07:00', 500], ['08:00', 1_000]].map(([clock, footageMm]) => ({ atUs: US(String(clock)), footageMm })) } },
} as unknown as EvidenceMap['ground']['model']);

function mapWith(lines: readonly MapLine[], pipe = mm(0, 1_000)): EvidenceMap {
  const ground = { stringId: 'string', pipe, model: model([period('p', '05:00')]) } as unknown as EvidenceMap['ground'];
  const plans = [...new Map(lines.flatMap(({ of }) => (of === null ? [] : [[of.plan.id, of.plan] as const]))).values()];
  return mapOf({ ground, plans, lines });
}

const DIMENSION = lineOf(planned('D-1'), [said('confirmed', 0, 300, 'a'), said('suspect', 300, 600, 'b'), said('confirmed', 600, 1_000, 'c')], []);
const RELEASED = lineOf(planned('R-1', 'plan', 'released'), [said('confirmed', 0, 1_000, 'release')], []);

describe('evidence as it is frozen', () => {
  test('has what decides on its pipe, with versions, and no more', () => {
    const { lines: [line], plans, worst, fromMm, toMm } = freeze(mapWith([DIMENSION]), interval(400, 700));
    expect([fromMm, toMm, worst, plans]).toEqual([400, 700, 'suspect', [{ kind: 'control-plan', id: 'plan', version: 1 }]]);
    expect(line).toMatchObject({ key: 'D-1 plan', code: 'D-1', testimonies: [{ says: 'suspect', records: [{ kind: 'weld', id: 'b', version: 1 }] }, { says: 'confirmed', records: [{ id: 'c' }] }] });
    expect(shown(line?.stretches ?? [])).toEqual(['suspect 400-600 by 0', 'confirmed 600-700 by 1']);
  });

  test('has no line that asks for a release: signing one must not change what was signed', () => {
    expect(freeze(mapWith([DIMENSION, RELEASED]), interval(0, 1_000)).lines).toEqual(freeze(mapWith([DIMENSION]), interval(0, 1_000)).lines);
  });

  test('has holds among its lines, and is failed by them', () => {
    const held = holdsLine([said('failed', 100, 200, 'h')], mm(0, 1_000));
    expect(freeze(mapWith([DIMENSION, held]), interval(0, 1_000))).toMatchObject({ worst: 'failed', lines: [{ code: 'D-1' }, { code: 'hold' }] });
    expect(freeze(mapWith([DIMENSION, held]), interval(200, 300))).toMatchObject({ worst: 'confirmed', lines: [{ code: 'D-1' }] });
  });

  test('is missing where no plan holds, whatever else is on record, and not where that pipe was cut out', () => {
    const half = lineOf(planned('D-1', 'plan', 'dimension', mm(0, 500)), [said('confirmed', 0, 500, 'a')], []);
    expect(freeze(mapWith([half]), interval(0, 501)).worst).toBe('missing');
    expect(freeze(mapWith([half]), interval(0, 500)).worst).toBe('confirmed');
    expect(freeze(mapWith([half], mm(0, 500).union(mm(700, 1_000))), interval(0, 700)).worst).toBe('confirmed');
    expect(freeze(mapWith([]), interval(0, 500))).toMatchObject({ worst: 'missing', lines: [], plans: [] });
  });

  test('names only plans that ask for something on its pipe', () => {
    const later = lineOf(planned('D-1', 'next', 'dimension', mm(500, 1_000)), [], []);
    const first = lineOf(planned('D-1', 'plan', 'dimension', mm(0, 500)), [], []);
    const plansOf = (asked: Interval): string[] => freeze(mapWith([first, later]), asked).plans.map(({ id }) => id);
    expect([plansOf(interval(0, 500)), plansOf(interval(0, 501)), plansOf(interval(500, 600))]).toEqual([['plan'], ['plan', 'next'], ['next']]);
  });

  test('is the same text whenever it is made, and is read back as it was', () => {
    const frozen = freeze(mapWith([DIMENSION]), interval(0, 1_000));
    const { text, sha256 } = frozenText(frozen);
    expect(thawed(text)).toEqual(frozen);
    expect(frozenText(freeze(mapWith([DIMENSION]), interval(0, 1_000)))).toEqual({ text, sha256 });
    expect(frozenText({ ...frozen, worst: 'confirmed' }).sha256).not.toBe(sha256);
    expect(freeze(mapWith([DIMENSION], IntervalSet.empty), interval(0, 1_000)).lines).toEqual([]);
  });
});

describe('what gives pipe its footage', () => {
  const restsOn = (toMm: number, ...periods: readonly CounterPeriodVersion[]): string[] => footageRestsOn(model(periods), toMm).map(({ id, version }) => `${id} ${version}`);

  test('is each period of the master counter that began before all of it was made, by id', () => {
    expect(restsOn(500, period('b', '06:30'), period('a', '05:00'))).toEqual(['a 3', 'b 3']);
    expect(restsOn(500, period('a', '05:00'), period('late', '07:01'))).toEqual(['a 3']);
    expect(restsOn(500, period('a', '05:00'), period('then', '07:00'))).toEqual(['a 3', 'then 3']);
    expect(restsOn(501, period('a', '05:00'), period('late', '07:01'))).toEqual(['a 3', 'late 3']);
    expect(restsOn(500, period('a', '05:00', 'another'))).toEqual([]);
  });

  test('is all of them for pipe that is not made whole yet', () => {
    expect(restsOn(1_001, period('a', '05:00'), period('b', '09:00'))).toEqual(['a 3', 'b 3']);
  });
});
