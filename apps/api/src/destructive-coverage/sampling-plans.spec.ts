import { describe, expect, test } from '@jest/globals';
import type { AssignedPlan } from '../sampling-plan-assignments/plan-in-force.js';
import type { CoilPipeStretch } from './coil-pipes.js';
import { planCaution, plannedPipes, plannedRules, retestRule, type StringPlans } from './sampling-plans.js';
import type { StopPlace } from './stop-places.js';

const stretch = (name: string, fromMm: number, toMm: number, madeAt: string): CoilPipeStretch => ({ name, pipe: { fromMm, toMm }, madeAt }) as CoilPipeStretch;
const stop = (atMm: number): StopPlace => ({ name: `at ${atMm} mm`, atMm, plusMinusMm: 0, namedAt: null, events: [] });
const assigned = (revision: number, fromDay: string): AssignedPlan => ({
  assignment: { fromDay }, plan: { number: 'SP-1', revision, tests: [{ test: 'flattening', rules: [{ rule: 'stop-sides', everyMm: null }], retestAllowed: true, passingRetestsPerFailure: revision, source: 'clause' }] },
}) as unknown as AssignedPlan;
const plans = (...all: AssignedPlan[]): StringPlans => ({ assigned: all, dayOf: (instant) => instant.slice(0, 10) });

const PIPE = [stretch('A', 0, 100, '2026-03-01T23:59:59Z'), stretch('B', 100, 200, '2026-03-02T00:00:00Z'), stretch('C', 200, 300, '2026-03-01T00:00:00Z'), stretch('D', 300, 400, '2026-02-28T00:00:00Z')];
const shown = (given: StringPlans, pipe = PIPE): unknown[] =>
  plannedPipes(pipe, [stop(100), stop(150), stop(500)], given).map(({ assigned: plan, stretches, layout, pipe: set }) => [
    plan?.plan.revision ?? null, stretches.map(({ name }) => name), layout.stops.map(({ atMm }) => atMm), set.totalLengthMm,
  ]);

describe('the pipe by the plan in force', () => {
  test('each coil by the day of the first entry of its pipe; a stop between two coils is at both, one at no pipe at none', () => {
    expect(shown(plans(assigned(1, '2026-03-01'), assigned(2, '2026-03-02')))).toEqual([[null, ['D'], [], 100], [1, ['A', 'C'], [100], 200], [2, ['B'], [100, 150], 100]]);
  });

  test('all of it by none where no plan was assigned, and plans that came later with none of it', () => {
    expect(shown(plans())).toEqual([[null, ['A', 'B', 'C', 'D'], [100, 150], 400]]);
    expect(shown(plans(assigned(1, '2026-02-01'), assigned(2, '2026-04-01')))).toEqual([[1, ['A', 'B', 'C', 'D'], [100, 150], 400], [2, [], [], 0]]);
    expect(shown(plans(), [])).toEqual([[null, [], [], 0]]);
  });

  test('without a plan the starting values hold, and the caution says so', () => {
    expect([plannedRules('flattening', null), plannedRules('flaring', null), plannedRules('tensile', null)]).toEqual([[{ rule: 'coil-ends' }], [{ rule: 'coil-ends' }], []]);
    expect([plannedRules('flattening', assigned(1, '')), plannedRules('flaring', assigned(1, ''))]).toEqual([[{ rule: 'stop-sides' }], []]);
    const caution = (given: StringPlans): boolean => planCaution(plannedPipes(PIPE, [], given)).includes('starting value');
    expect([caution(plans()), caution(plans(assigned(1, '2026-03-01'))), caution(plans(assigned(1, '2026-02-01')))]).toEqual([true, true, false]);
  });
});

test('a failure demands what the plan of the day of the first test says', () => {
  const given = plans(assigned(1, '2026-03-01'), assigned(3, '2026-03-02'));
  const passing = (at: string): number | null => retestRule('flattening', at, given).passingRetestsPerFailure;
  expect([passing('2026-02-28T23:59:59Z'), passing('2026-03-01T00:00:00Z'), passing('2026-03-02T00:00:00Z')]).toEqual([2, 1, 3]);
  expect(retestRule('flattening', '2026-02-28T00:00:00Z', given).source).toBe('common practice, no published source; a starting value: no sampling plan was in force');
});
