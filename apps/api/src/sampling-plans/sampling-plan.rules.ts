import { DEFAULT_RETEST_RULE, type RetestRule, type SamplingRule } from '#libs/tube-tests';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';
import type { FieldProblem } from '../http/problem.js';
import type { PlannedTestPart, SamplingPlanInput, SamplingRulePart } from './sampling-plan.dto.js';
import type { PlannedTest, SamplingPlanVersion } from './sampling-plan.entity.js';

type Plan = Pick<SamplingPlanVersion, 'number' | 'revision' | 'tests'>;

/** A plan as people name it. */
export const planName = ({ number, revision }: Pick<SamplingPlanVersion, 'number' | 'revision'>): string => `${number} revision ${revision}`;

/** What a plan says, as columns. */
export function plannedTests(tests: readonly PlannedTestPart[]): PlannedTest[] {
  return tests.map(({ test, rules, retestAllowed, passingRetestsPerFailure, source }) => ({
    test, rules: rules.map(({ rule, everyMm }) => ({ rule, everyMm: everyMm ?? null })), retestAllowed,
    passingRetestsPerFailure: passingRetestsPerFailure ?? null, source,
  }));
}

/** What contradicts itself in a plan, field by field. */
export function planFaults({ tests }: Pick<SamplingPlanInput, 'tests'>): FieldProblem[] {
  const kinds = tests.map(({ test }) => test);
  return tests.flatMap((planned, index): FieldProblem[] => {
    const field = `tests[${index}]`;
    const isDouble = kinds.indexOf(planned.test) < index;
    return [
      ...(isDouble ? [{ field: `${field}.test`, value: planned.test, limit: 'each test once' }] : []),
      ...planned.rules.flatMap((rule, nth) => ruleFaults(rule, planned.rules.slice(0, nth), `${field}.rules[${nth}]`)), ...retestFaults(planned, field),
    ];
  });
}

function ruleFaults({ rule, everyMm }: SamplingRulePart, before: readonly SamplingRulePart[], field: string): FieldProblem[] {
  const isLengthRight = (rule === 'every-length') === (everyMm != null);
  return [
    ...(before.some((one) => one.rule === rule) ? [{ field: `${field}.rule`, value: rule, limit: 'each rule of a test once' }] : []),
    ...(isLengthRight ? [] : [{ field: `${field}.everyMm`, value: everyMm ?? null, limit: 'the length of every-length, and of no other rule' }]),
  ];
}

function retestFaults({ retestAllowed, passingRetestsPerFailure }: PlannedTestPart, field: string): FieldProblem[] {
  if (retestAllowed === (passingRetestsPerFailure != null)) return [];
  const limit = 'how many, where retests are allowed and only there';
  return [{ field: `${field}.passingRetestsPerFailure`, value: passingRetestsPerFailure ?? null, limit }];
}

/** The rules by which a plan demands samples of a test, as they are computed with; empty where it sets no frequency. */
export function rulesOf({ tests }: Plan, kind: TestKind): SamplingRule[] {
  const rules = tests.find(({ test }) => test === kind)?.rules ?? [];
  return rules.map(({ rule, everyMm }): SamplingRule => (rule === 'every-length' ? { rule, everyMm: everyMm ?? 0 } : { rule }));
}

/** What a plan demands after a failure. Where it says nothing of the test, what is common practice, and that it is so. */
export function retestRuleOf(plan: Plan, kind: TestKind): RetestRule {
  const planned = plan.tests.find(({ test }) => test === kind);
  if (planned === undefined) return { ...DEFAULT_RETEST_RULE, source: `${DEFAULT_RETEST_RULE.source}; ${planName(plan)} says nothing of ${kind}` };
  const { retestAllowed, passingRetestsPerFailure, source } = planned;
  return { passingRetestsPerFailure: retestAllowed ? passingRetestsPerFailure : null, source: `${planName(plan)}: ${source}` };
}
