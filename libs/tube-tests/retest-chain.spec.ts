import { describe, expect, test } from '@jest/globals';
import { chainFault, DEFAULT_RETEST_RULE, unitStateOf, worstUnitState, type RetestRule, type TestResult } from '#libs/tube-tests';

const result = (id: string, atUs: number, outcome: 'pass' | 'fail', follows: string | null = null): TestResult => ({ id, atUs, outcome, follows });
const voided = (id: string, atUs: number, follows: string | null = null): TestResult =>
  ({ id, atUs, outcome: 'void', reason: 'Flaw of machining', follows });
const stateOf = (results: readonly TestResult[], rule?: RetestRule): string => unitStateOf(results, rule).state;

describe('unitStateOf', () => {
  test('without a failure the unit passed', () => {
    expect(stateOf([result('A', 1, 'pass')])).toBe('passed');
    expect(stateOf([result('A', 1, 'pass'), result('B', 2, 'pass', 'A')])).toBe('passed');
  });

  test('a failure asks for two passing retests, one after the other or both for the failure', () => {
    const first = [result('A', 1, 'fail')];
    expect(stateOf(first)).toBe('open');
    expect(stateOf([...first, result('B', 2, 'pass', 'A')])).toBe('open');
    expect(stateOf([...first, result('B', 2, 'pass', 'A'), result('C', 2, 'pass', 'A')])).toBe('failed, retests passed');
    expect(stateOf([...first, result('B', 2, 'pass', 'A'), result('C', 3, 'pass', 'B')])).toBe('failed, retests passed');
  });

  test('says what failed, what is lacking, and by which rule', () => {
    const found = unitStateOf([result('B', 2, 'pass', 'A'), result('A', 1, 'fail')]);
    expect(found.failures).toEqual([{ result: 'A', passedRetests: ['B'], failedRetests: [], discounted: [], lacking: 1 }]);
    expect(found.results.map(({ id }) => id)).toEqual(['A', 'B']);
    expect(found.words).toBe('open: A failed, retests B passed, 1 more to pass. A passed retest does not erase a failure.');
    expect(found.rule).toEqual({
      words: '2 passing retests for each failure; a failed retest is final (common practice, no published source)',
      source: 'common practice, no published source',
    });
  });

  test('a failed retest is final, whatever passes afterwards', () => {
    const chain = [result('A', 1, 'fail'), result('B', 2, 'pass', 'A'), result('C', 3, 'fail', 'B')];
    const found = unitStateOf([...chain, result('D', 4, 'pass', 'C'), result('E', 5, 'pass', 'C'), result('F', 6, 'pass', 'A')]);
    expect(found.state).toBe('failed');
    expect(found.failures).toEqual([{ result: 'A', passedRetests: ['B', 'F'], failedRetests: ['C'], discounted: [], lacking: null }]);
    expect(found.words).toContain('A failed, and so did its retest C');
  });

  test('a pass that is no retest is told and does not count, what follows it does; a failure counts wherever it was made', () => {
    const [failed, elsewhere] = [result('A', 1, 'fail'), { ...result('B', 2, 'pass', 'A'), discount: 'another coil' }];
    const found = unitStateOf([failed, elsewhere, result('C', 3, 'pass', 'B')]);
    expect(found.failures).toEqual([{ result: 'A', passedRetests: ['C'], failedRetests: [], discounted: [{ result: 'B', because: 'another coil' }], lacking: 1 }]);
    expect(found.words).toBe('open: A failed, retests C passed, B passed and does not count: another coil, 1 more to pass. A passed retest does not erase a failure.');
    expect(stateOf([failed, elsewhere, result('C', 3, 'pass', 'B'), result('D', 3, 'pass', 'A')])).toBe('failed, retests passed');
    expect(stateOf([failed, { ...elsewhere, outcome: 'fail' }])).toBe('failed');
  });

  test('a pass that follows nothing does not answer a failure', () => {
    expect(stateOf([result('A', 1, 'fail'), result('B', 2, 'pass'), result('C', 3, 'pass')])).toBe('open');
  });

  test('a failure that follows a pass is a failure of its own', () => {
    const found = unitStateOf([result('A', 1, 'pass'), result('B', 2, 'fail', 'A'), result('C', 3, 'pass', 'B'), result('D', 4, 'pass', 'B')]);
    expect(found.state).toBe('failed, retests passed');
    expect(found.failures.map((one) => one.result)).toEqual(['B']);
  });

  test('each failure needs its own retests', () => {
    const answered = [result('A', 1, 'fail'), result('B', 2, 'pass', 'A'), result('C', 3, 'pass', 'A')];
    expect(stateOf([...answered, result('X', 1, 'fail')])).toBe('open');
    expect(stateOf([...answered, result('X', 1, 'fail'), result('Y', 2, 'pass', 'X'), result('Z', 2, 'pass', 'X')])).toBe('failed, retests passed');
  });

  test('void results are kept, shown and count for nothing; what replaces one stands in its place', () => {
    const found = unitStateOf([result('A', 1, 'fail'), voided('B', 2, 'A'), result('C', 3, 'pass', 'B'), result('D', 4, 'pass', 'A')]);
    expect(found.state).toBe('failed, retests passed');
    expect(found.voided).toEqual([{ result: 'B', reason: 'Flaw of machining' }]);
    expect(found.results).toHaveLength(4);
    expect(stateOf([voided('A', 1), result('B', 2, 'pass', 'A')])).toBe('passed');
    expect(stateOf([result('A', 1, 'fail'), voided('B', 2, 'A'), result('C', 3, 'fail', 'B')])).toBe('failed');
  });

  test('with nothing but void results the unit is open', () => {
    expect(unitStateOf([voided('A', 1)])).toMatchObject({ state: 'open', words: 'open: all results are void, and the test is to be made again' });
  });

  test('the specification may demand one retest, or allow none', () => {
    const given = [result('A', 1, 'fail'), result('B', 2, 'pass', 'A')];
    const one = unitStateOf(given, { passingRetestsPerFailure: 1, source: 'Specification 7' });
    expect([one.state, one.rule.source]).toEqual(['failed, retests passed', 'Specification 7']);
    expect(one.rule.words).toBe('1 passing retest for each failure; a failed retest is final (common practice, no published source)');
    const none = unitStateOf(given, { passingRetestsPerFailure: null, source: 'Specification 7' });
    expect([none.state, none.rule.words]).toEqual(['failed', 'no retest is allowed: a failure is final']);
    expect(none.words).toContain('A failed, and no retest is allowed');
  });

  test('results of one instant are in order of what follows what', () => {
    const found = unitStateOf([result('A', 1, 'pass', 'Z'), result('Z', 1, 'fail'), result('B', 1, 'pass', 'A')]);
    expect(found.results.map(({ id }) => id)).toEqual(['Z', 'A', 'B']);
  });

  test.each<[string, readonly TestResult[]]>([
    ['there is no result: what an untested unit means is for the caller to say', []],
    ['a result comes twice: A', [result('A', 1, 'fail'), result('A', 2, 'pass')]],
    ['result B follows one that is not there: X', [result('A', 1, 'fail'), result('B', 2, 'pass', 'X')]],
    ['result B is earlier than A, which it follows', [result('A', 2, 'fail'), result('B', 1, 'pass', 'A')]],
    ['results follow one another in a circle: B, C', [result('A', 1, 'pass'), result('B', 2, 'fail', 'C'), result('C', 2, 'pass', 'B')]],
    ['results follow one another in a circle: A', [result('A', 1, 'pass', 'A')]],
    ['result A has no time: NaN', [result('A', Number.NaN, 'pass')]],
    ['result A is void without a reason', [{ id: 'A', atUs: 1, outcome: 'void', reason: ' ', follows: null }]],
  ])('refuses: %s', (message, results) => {
    expect(() => unitStateOf(results)).toThrow(new RangeError(message));
  });

  test.each([0, -1, 1.5, Number.NaN])('refuses %p passing retests', (passingRetestsPerFailure) => {
    expect(() => unitStateOf([result('A', 1, 'pass')], { ...DEFAULT_RETEST_RULE, passingRetestsPerFailure })).toThrow(RangeError);
  });

  test('a long chain is followed to its end', () => {
    const chain = Array.from({ length: 19_999 }, (_, index) => result(`R${index + 1}`, index + 1, 'pass', `R${index}`));
    expect(unitStateOf([result('R0', 0, 'fail'), ...chain]).failures[0]!.passedRetests).toHaveLength(19_999);
  });
});

test('a chain that does not hold together says so in words', () => {
  expect(chainFault([result('A', 1, 'fail'), result('B', 2, 'pass', 'A')])).toBeNull();
  expect(chainFault([result('A', 2, 'fail'), result('B', 1, 'pass', 'A')])).toBe('result B is earlier than A, which it follows');
});

describe('worstUnitState', () => {
  test('a unit with a failure is never as good as one that passed', () => {
    expect(worstUnitState(['passed', 'failed, retests passed', 'passed'])).toBe('failed, retests passed');
    expect(worstUnitState(['failed, retests passed', 'open'])).toBe('open');
    expect(worstUnitState(['open', 'failed', 'passed'])).toBe('failed');
    expect(worstUnitState(['passed'])).toBe('passed');
  });

  test('of none there is none', () => {
    expect(() => worstUnitState([])).toThrow(new RangeError('there is no state to take the worst of'));
  });
});
