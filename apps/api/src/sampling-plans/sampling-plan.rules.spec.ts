import { describe, expect, test } from '@jest/globals';
import type { PlannedTestPart } from './sampling-plan.dto.js';
import { planFaults, plannedTests, retestRuleOf, rulesOf } from './sampling-plan.rules.js';

const planned = (changes: Partial<PlannedTestPart> = {}): PlannedTestPart => ({
  test: 'flattening', rules: [{ rule: 'coil-ends' }], retestAllowed: true, passingRetestsPerFailure: 2, source: 'STS-12 rev 3, clause 7.4', ...changes,
});
const faults = (...tests: PlannedTestPart[]): string[] => planFaults({ tests }).map(({ field }) => field);
const plan = (...tests: PlannedTestPart[]) => ({ number: 'SP-1', revision: 2, tests: plannedTests(tests) });

describe('what contradicts itself in a plan', () => {
  test('nothing, in one that has each test and each rule once, with or without a frequency', () => {
    expect(faults(planned(), planned({ test: 'hardness', rules: [] }), planned({ test: 'flaring', rules: [{ rule: 'every-length', everyMm: 1 }, { rule: 'stop-sides', everyMm: null }] }))).toEqual([]);
  });

  test('a test or rule twice, a length where none belongs or none where one does, and retests that are not allowed or not counted', () => {
    expect(faults(planned(), planned({ rules: [] }))).toEqual(['tests[1].test']);
    expect(faults(planned({ rules: [{ rule: 'coil-ends' }, { rule: 'stop-sides' }, { rule: 'coil-ends' }] }))).toEqual(['tests[0].rules[2].rule']);
    expect(faults(planned({ rules: [{ rule: 'every-length' }, { rule: 'stop-sides', everyMm: 5 }] }))).toEqual(['tests[0].rules[0].everyMm', 'tests[0].rules[1].everyMm']);
    expect(faults(planned({ retestAllowed: false }))).toEqual(['tests[0].passingRetestsPerFailure']);
    expect(faults(planned({ passingRetestsPerFailure: null }))).toEqual(['tests[0].passingRetestsPerFailure']);
    expect(faults(planned({ retestAllowed: false, passingRetestsPerFailure: null }))).toEqual([]);
  });
});

describe('a plan as it is computed with', () => {
  test('has the rules of its tests, and none of others', () => {
    const both = plan(planned({ rules: [{ rule: 'coil-ends' }, { rule: 'every-length', everyMm: 40_000 }] }), planned({ test: 'macro', rules: [] }));
    expect(rulesOf(both, 'flattening')).toEqual([{ rule: 'coil-ends' }, { rule: 'every-length', everyMm: 40_000 }]);
    expect([rulesOf(both, 'macro'), rulesOf(both, 'flaring')]).toEqual([[], []]);
  });

  test('demands its own retests, none where it allows none, and common practice where it says nothing', () => {
    const both = plan(planned({ passingRetestsPerFailure: 3 }), planned({ test: 'flaring', retestAllowed: false, passingRetestsPerFailure: null }));
    expect(retestRuleOf(both, 'flattening')).toEqual({ passingRetestsPerFailure: 3, source: 'SP-1 revision 2: STS-12 rev 3, clause 7.4' });
    expect(retestRuleOf(both, 'flaring')).toMatchObject({ passingRetestsPerFailure: null });
    expect(retestRuleOf(both, 'tensile')).toEqual({ passingRetestsPerFailure: 2, source: 'common practice, no published source; SP-1 revision 2 says nothing of tensile' });
  });
});
