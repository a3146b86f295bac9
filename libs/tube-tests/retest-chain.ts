import { grouped, linkedResults, type LinkedResult, type TestResult } from './linked-results.js';
import { COMMON_PRACTICE } from './sources.js';

/** What can be said of a test unit, best to worst. A unit that failed once is never again `passed`. */
export const UNIT_STATES = ['passed', 'failed, retests passed', 'open', 'failed'] as const;
export type UnitState = (typeof UNIT_STATES)[number];

/** Passing retests that the specification demands for each failure; null: it allows none, and a failure is final. */
export interface RetestRule {
  readonly passingRetestsPerFailure: number | null;
  readonly source: string;
}

export const DEFAULT_RETEST_RULE: RetestRule = { passingRetestsPerFailure: 2, source: COMMON_PRACTICE };

/** A failure that was no retest, and what was done about it. */
export interface Failure {
  readonly result: string;
  /** Those that count, in order of time. */
  readonly passedRetests: readonly string[];
  readonly failedRetests: readonly string[];
  /** Retests that passed and count for nothing, and why. */
  readonly discounted: readonly { readonly result: string; readonly because: string }[];
  /** Passing retests not there yet; null where none would help. */
  readonly lacking: number | null;
}

export interface UnitAnswer {
  readonly state: UnitState;
  readonly failures: readonly Failure[];
  /** All results in order of time, void ones among them. */
  readonly results: readonly TestResult[];
  /** Kept and shown, counting for nothing. */
  readonly voided: readonly { readonly result: string; readonly reason: string }[];
  readonly words: string;
  readonly rule: { readonly words: string; readonly source: string };
}

/**
 * The state of one test unit by all its results, given in any order. A pass never erases a fail:
 * - `passed`: a result passed, and none ever failed.
 * - `failed, retests passed`: each failure has the passing retests that the rule demands, and no retest failed.
 * - `open`: retests are demanded that are not there yet, or all results are void.
 * - `failed`: a retest failed, which no further retest mends, or the rule allows no retest. Both common practice, no
 *   published source.
 * A result is a retest of the nearest failure that it follows, by way of whatever passed or was void in between; so the
 * second retest may point to the first, or both to the failure. A result that points to none is an original of its own. A pass
 * with a `discount` is none of the passing retests.
 * Throws RangeError when there is no result, as `linkedResults` does, or when the rule demands no whole number of at least 1.
 */
export function unitStateOf(results: readonly TestResult[], rule: RetestRule = DEFAULT_RETEST_RULE): UnitAnswer {
  demandSensibleRule(rule);
  if (results.length === 0) throw new RangeError('there is no result: what an untested unit means is for the caller to say');
  const linked = linkedResults(results);
  const failures = failuresOf(linked, rule);
  const state = stateOf(linked, failures);
  return {
    state,
    failures,
    results: linked.map(({ result }) => result),
    voided: linked.flatMap(({ result }) => (result.outcome === 'void' ? [{ result: result.id, reason: result.reason }] : [])),
    words: wordsFor(state, failures),
    rule: { words: ruleWords(rule), source: rule.source },
  };
}

/** The worst of them, for the evidence of a metre that several units speak of. Throws RangeError when there are none. */
export function worstUnitState(states: Iterable<UnitState>): UnitState {
  let rank = -1;
  for (const state of states) rank = Math.max(rank, UNIT_STATES.indexOf(state));
  const found = UNIT_STATES[rank];
  if (found === undefined) throw new RangeError('there is no state to take the worst of');
  return found;
}

function failuresOf(linked: readonly LinkedResult[], { passingRetestsPerFailure: demanded }: RetestRule): Failure[] {
  const firstFailures = linked.filter(({ result, retestOf }) => result.outcome === 'fail' && retestOf === null);
  const childrenOf = grouped(linked, ({ retestOf }) => retestOf);
  return firstFailures.map(({ result: { id } }) => {
    const retests = (childrenOf.get(id) ?? []).map(({ result }) => result);
    const passed = retests.filter(({ outcome }) => outcome === 'pass');
    const passedRetests = passed.filter(({ discount }) => discount === undefined).map((one) => one.id);
    const discounted = passed.flatMap((one) => (one.discount === undefined ? [] : [{ result: one.id, because: one.discount }]));
    const failedRetests = retests.filter(({ outcome }) => outcome === 'fail').map((one) => one.id);
    const canHelp = demanded !== null && failedRetests.length === 0;
    return { result: id, passedRetests, failedRetests, discounted, lacking: canHelp ? Math.max(0, demanded - passedRetests.length) : null };
  });
}

function stateOf(linked: readonly LinkedResult[], failures: readonly Failure[]): UnitState {
  if (failures.some(({ lacking }) => lacking === null)) return 'failed';
  if (failures.some(({ lacking }) => lacking !== 0)) return 'open';
  if (failures.length > 0) return 'failed, retests passed';
  return linked.some(({ result }) => result.outcome === 'pass') ? 'passed' : 'open';
}

function wordsFor(state: UnitState, failures: readonly Failure[]): string {
  if (state === 'passed') return 'passed; no result failed';
  if (failures.length === 0) return 'open: all results are void, and the test is to be made again';
  const each = failures.map(({ result, passedRetests, failedRetests, discounted, lacking }) => {
    const idle = discounted.map((one) => `, ${one.result} passed and does not count: ${one.because}`).join('');
    if (failedRetests.length > 0) return `${result} failed, and so did its retest ${failedRetests.join(', ')}${idle}`;
    if (lacking === null) return `${result} failed, and no retest is allowed${idle}`;
    const done = passedRetests.length === 0 ? '' : `, retests ${passedRetests.join(', ')} passed`;
    return `${result} failed${done}${idle}${lacking > 0 ? `, ${lacking} more to pass` : ''}`;
  });
  return `${state}: ${each.join('; ')}. A passed retest does not erase a failure.`;
}

function ruleWords({ passingRetestsPerFailure: demanded }: RetestRule): string {
  if (demanded === null) return 'no retest is allowed: a failure is final';
  const final = `a failed retest is final (${COMMON_PRACTICE})`;
  return `${demanded} passing ${demanded === 1 ? 'retest' : 'retests'} for each failure; ${final}`;
}

function demandSensibleRule({ passingRetestsPerFailure: demanded }: RetestRule): void {
  if (demanded === null || (Number.isSafeInteger(demanded) && demanded >= 1)) return;
  throw new RangeError(`passing retests per failure are not a whole number of at least 1: ${demanded}`);
}
