import { expect, test } from '@jest/globals';
import { planInForce, type AssignedPlan } from './plan-in-force.js';

const from = (fromDay: string): AssignedPlan => ({ assignment: { fromDay }, plan: {} }) as AssignedPlan;

test('a plan is in force from its day on, until the day of the next', () => {
  const assigned = [from('2026-03-01'), from('2026-03-10')];
  const inForce = (day: string): string | null => planInForce(assigned, day)?.assignment.fromDay ?? null;
  expect(['2026-02-28', '2026-03-01', '2026-03-09', '2026-03-10', '2026-12-31'].map(inForce)).toEqual([null, '2026-03-01', '2026-03-01', '2026-03-10', '2026-03-10']);
  expect(planInForce([], '2026-03-01')).toBeNull();
});
