import { IntervalSet } from '#libs/intervals';
import { DEFAULT_RETEST_RULE, inWords, type PipeLayout, type RetestRule, type SamplingRule } from '#libs/tube-tests';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';
import { planInForce, type AssignedPlan } from '../sampling-plan-assignments/plan-in-force.js';
import { planName, retestRuleOf, rulesOf } from '../sampling-plans/sampling-plan.rules.js';
import type { CoilPipeStretch } from './coil-pipes.js';
import type { SamplingRuleAnswer } from './destructive-coverage.dto.js';
import { layoutOf } from './sample-places.js';
import type { StopPlace } from './stop-places.js';

/**
 * Where samples are demanded until a sampling plan of the project says so: flattening and flaring at both ends of each coil's
 * pipe. The other tests have no frequency here: nothing is guessed.
 */
const STARTING_RULES: Readonly<Partial<Record<TestKind, readonly SamplingRule[]>>> = { flattening: [{ rule: 'coil-ends' }], flaring: [{ rule: 'coil-ends' }] };

export const STARTING = 'starting value';

/** Our own choice. */
export const COUPON_RULE: SamplingRuleAnswer = {
  rule: 'coupon', words: 'A coupon of a splice stands for that splice alone, and for none of the coils\' pipe.', by: 'our own choice', source: 'our own choice',
};

const PLAN_CAUTION =
  'Each coil\'s pipe is judged by the plan in force on the local day of the first entry of it, each failure by the plan of the day of the first test. ';
const STARTING_CAUTION =
  'No sampling plan was in force for part of it: there the frequency is a starting value, and the project\'s specification decides. ';
const FAILURE_CAUTION =
  'Samples taken after a failure take none of its metres. A pass on the piece that failed, or on one that is not shown to be of the same product, is no retest that counts. ';
const UNPLANNED_CAUTION = 'Samples of a test without a frequency stand for nothing, a coupon for its splice alone.';

/** Pipe of coils that one plan is in force for; null: none is, and the starting values apply. */
export interface PlannedPipe {
  readonly assigned: AssignedPlan | null;
  readonly stretches: readonly CoilPipeStretch[];
  readonly layout: PipeLayout;
  readonly pipe: IntervalSet;
}

/** The plans that a string was assigned, by their days, and the local day of an instant at its site. */
export interface StringPlans {
  readonly assigned: readonly AssignedPlan[];
  readonly dayOf: (instant: string) => string;
}

/**
 * The pipe by the plan in force on the day of the first entry of each coil's pipe: first that of no plan, then by the days of the
 * plans, those too that no pipe was entered under.
 */
export function plannedPipes(stretches: readonly CoilPipeStretch[], stops: readonly StopPlace[], { assigned, dayOf }: StringPlans): PlannedPipe[] {
  const inForce = stretches.map((stretch) => ({ stretch, plan: planInForce(assigned, dayOf(stretch.madeAt)) }));
  const isUnplanned = assigned.length === 0 || inForce.some(({ plan }) => plan === null);
  return [...(isUnplanned ? [null] : []), ...assigned].map((plan) => {
    const own = inForce.filter((one) => one.plan === plan).map(({ stretch }) => stretch);
    return { assigned: plan, stretches: own, layout: layoutOf(own, stops), pipe: IntervalSet.from(own.map(({ pipe }) => pipe)) };
  });
}

/** The rules for a test where this plan is in force. */
export const plannedRules = (kind: TestKind, assigned: AssignedPlan | null): readonly SamplingRule[] =>
  (assigned === null ? (STARTING_RULES[kind] ?? []) : rulesOf(assigned.plan, kind));

/** A rule as answers say it: who demands it, and where it comes from. */
export function ruleAnswer(kind: TestKind, rule: SamplingRule, assigned: AssignedPlan | null): SamplingRuleAnswer {
  const { rule: name, words, source } = inWords(rule);
  if (assigned === null) return { rule: name, words, by: STARTING, source };
  const clause = assigned.plan.tests.find(({ test }) => test === kind)?.source ?? '';
  return { rule: name, words, by: planName(assigned.plan), source: `${clause}; for what a sample stands for: ${source}` };
}

/** What a failure demands, by the plan in force on the day of the first test. */
export function retestRule(kind: TestKind, firstTestAt: string, { assigned, dayOf }: StringPlans): RetestRule {
  const inForce = planInForce(assigned, dayOf(firstTestAt));
  if (inForce !== null) return retestRuleOf(inForce.plan, kind);
  return { ...DEFAULT_RETEST_RULE, source: `${DEFAULT_RETEST_RULE.source}; a ${STARTING}: no sampling plan was in force` };
}

/** What the frequency of a test rests on where this plan is in force, in words. */
export function basisOf(kind: TestKind, assigned: AssignedPlan | null): string {
  const has = plannedRules(kind, assigned).length > 0;
  if (assigned === null) return has ? 'No sampling plan was in force: the starting value applies.' : 'No sampling plan was in force, and there is no starting value: no sample is demanded.';
  const from = `${planName(assigned.plan)}, in force from ${assigned.assignment.fromDay},`;
  return has ? `${from} demands the samples.` : `${from} sets no frequency for ${kind}: no sample is demanded.`;
}

/** What the frequencies are, for the whole answer. */
export const planCaution = (planned: readonly PlannedPipe[]): string =>
  `${PLAN_CAUTION}${planned.some(({ assigned }) => assigned === null) ? STARTING_CAUTION : ''}${FAILURE_CAUTION}${UNPLANNED_CAUTION}`;
