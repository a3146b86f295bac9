import { describe, expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import { INFERENCE_CAUTION, type UnitState } from '#libs/tube-tests';
import type { StandingTests } from '../../destructive-coverage/destructive-coverage.service.js';
import type { StandingUnit } from '../../destructive-coverage/test-coverage.js';
import type { TestKind } from '../../destructive-tests/destructive-test.dto.js';
import { DestructiveTest } from '../../destructive-tests/destructive-test.entity.js';
import { TestSample } from '../../test-samples/test-sample.entity.js';
import { destructiveWords } from './destructive-tests.js';
import type { WordOnPipe } from './word-on-pipe.js';

const at = (day: number): string => `2026-03-0${day}T08:00:00.000000Z`;
const pipe = (...ends: readonly [number, number][]): IntervalSet => IntervalSet.from(ends.map(([fromMm, toMm]) => ({ fromMm, toMm })));
const result = (id: string, day: number, outcome: DestructiveTest['outcome'] = 'pass') => ({
  row: Object.assign(new DestructiveTest(), { id, version: 1, outcome, observedAt: at(day), enteredAt: at(day) }), name: id,
});

function unit(id: string, kind: TestKind, state: UnitState, footage: IntervalSet, others: readonly ReturnType<typeof result>[] = []): StandingUnit {
  const tests = [result(id, 3, state === 'passed' ? 'pass' : 'fail'), ...others] as const;
  const sample = Object.assign(new TestSample(), { id: `S-${id}`, version: 1, number: `S-${id}`, enteredAt: at(2) });
  return { kind, tests: [tests[0], ...tests.slice(1)], along: [id], samples: [sample], state, words: `${id} ${state}`, footage };
}
const tests = (kind: TestKind, demandedOf: IntervalSet, ...units: readonly StandingUnit[]): StandingTests => ({ kind, demandedOf, units });
const said = (words: readonly WordOnPipe[], ...says: readonly WordOnPipe['says'][]): string[] => words.filter((word) => says.includes(word.says))
  .map((word) => `${word.says} ${word.on.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join()} ${word.records.map(({ id }) => id).join()}`);

const ALL = pipe([0, 1000]);

describe('every kind of test that the plan in force demands', () => {
  test('has to stand: pipe for which one of two passed is not confirmed, and says what is not there', () => {
    const words = destructiveWords([tests('flattening', ALL, unit('f1', 'flattening', 'passed', pipe([0, 600]))), tests('flaring', ALL, unit('g1', 'flaring', 'passed', pipe([400, 1000])))], null);
    expect(said(words, 'confirmed')).toEqual(['confirmed 400-600 f1,S-f1,g1,S-g1']);
    expect(said(words, 'awaited')).toEqual(['awaited 600-1000 ', 'awaited 0-400 ']);
    expect(words[0]?.because).toBe(`flattening: f1 passed; flaring: g1 passed. ${INFERENCE_CAUTION}`);
  });

  test('is by the plan of each pipe: where only one is demanded it alone has to stand', () => {
    const words = destructiveWords([tests('flattening', ALL, unit('f1', 'flattening', 'passed', ALL)), tests('flaring', pipe([500, 1000]), unit('g1', 'flaring', 'passed', pipe([500, 800])))], null);
    expect(said(words, 'confirmed').sort()).toEqual(['confirmed 0-500 f1,S-f1', 'confirmed 500-800 f1,S-f1,g1,S-g1']);
  });

  test('is none where no plan demands any: what was tested confirms nothing', () => {
    expect(said(destructiveWords([tests('tensile', IntervalSet.empty, unit('t1', 'tensile', 'passed', pipe([0, 10])))], null), 'confirmed')).toEqual([]);
  });

  test('is against pipe where any failed, demanded or not, and in doubt where any is open', () => {
    const words = destructiveWords([
      tests('flattening', ALL, unit('f1', 'flattening', 'passed', ALL), unit('f2', 'flattening', 'open', pipe([900, 1000]))),
      tests('macro', IntervalSet.empty, unit('m1', 'macro', 'failed', pipe([200, 220]))),
    ], null);
    expect(said(words, 'failed', 'suspect')).toEqual(['suspect 900-1000 f2,S-f2', 'failed 200-220 m1,S-m1']);
  });
});

describe('one kind of test', () => {
  test('is not asked about another one', () => {
    const words = destructiveWords([tests('flattening', ALL, unit('f1', 'flattening', 'passed', ALL)), tests('flaring', ALL, unit('g1', 'flaring', 'failed', ALL))], 'flattening');
    expect(said(words, 'confirmed', 'failed', 'suspect', 'awaited')).toEqual(['confirmed 0-1000 f1,S-f1']);
  });

  test('stands on the splice that its coupon was of, though no plan demands it, and says why it stands nowhere else', () => {
    const words = destructiveWords([tests('macro', IntervalSet.empty, unit('m1', 'macro', 'passed', pipe([490, 510])))], 'macro');
    expect(said(words, 'confirmed')).toEqual(['confirmed 490-510 m1,S-m1']);
    expect(words.find(({ says }) => says === 'awaited')?.because).toBe('no sampling plan in force demands macro samples, so none stands for pipe of a coil');
  });

  test('stands with its retests passed, and names each result that counts with when it was entered', () => {
    const retested = unit('f1', 'flattening', 'failed, retests passed', ALL, [result('void', 4, 'void'), result('f2', 5)]);
    const [word] = destructiveWords([tests('flattening', ALL, retested)], 'flattening');
    expect(said([word as WordOnPipe], 'confirmed')).toEqual(['confirmed 0-1000 f1,f2,S-f1']);
    expect(word?.enteredAt).toEqual([at(3), at(5), at(2)]);
  });
});
