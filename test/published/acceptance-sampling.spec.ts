import { describe, expect, test } from '@jest/globals';
import {
  acceptanceProbability, codeLetter, type InspectionLevel, outgoingQualityLimit, qualityAccepted, rectifyingInspection, type SamplingPlan, sequentialPlan,
  standardPlan,
} from '#libs/spc';
import { accountedFor, checked, expectNumber, held, inputOf, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected } from './spc-cases.js';

/** All cases of the file but those of tolerance intervals, which have their own spec. */
const CASES = spcCases('09-acceptance-sampling-tolerance.json').filter(({ id }) => !id.startsWith('tolerance-'));

/**
 * The program that the cases were computed with sought these by steps of about 1e-12. Here the limit comes out greater, as the
 * better maximum does, and the share is accepted with its probability to the last digit.
 */
const SOUGHT = 1e-10;

const CHECKS: SpcChecks = {
  'code-letters': Object.fromEntries((['S-1', 'S-2', 'S-3', 'S-4', 'I', 'II', 'III'] as const).map((level) => [
    `level ${level}`, (given, expected) => { expectLetters(given, level, expected); },
  ])),
  'single-plans-normal-II': {
    '[letter by lot, letter used, n, Ac, Re]': (given, expected) => {
      const found = (given.inputs['queries'] as { lot: number; aql: number }[]).map(({ lot, aql }) => standardPlan(lot, aql)!);
      expect(found.map(({ letterByLot, letter, n, acceptance, rejection }) => [letterByLot, letter, n, acceptance, rejection])).toEqual(expected.value);
    },
  },
  'oc-curve-52-3': {
    'pa, binomial': (given, expected) => { expectAll(inputsOf(given, 'p').map((p) => acceptanceProbability(planOf(given), p)), expected); },
    // For lots so large that the sample counts for nothing.
    'largest p pa of the table, at p = 0.06 (aoql)': (given, expected) => { expectNumber(0.06 * acceptanceProbability(planOf(given), 0.06), expected); },
    'aoql, maximum over all p of p pa': (given, expected) => { expectNumber(outgoingQualityLimit(planOf(given)), expected, SOUGHT); },
    'ati for p = 0.01 to 0.14': (given, expected) => { expectAll(rectified(given).map(({ inspectedItems }) => inspectedItems), expected); },
    'pa exact for p = 0.01 to 0.14': (given, expected) => { expectAll(PERCENT.map((p) => acceptanceProbability(planOf(given), p)), expected); },
    'aoq exact p pa (N-n)/N for p = 0.01 to 0.14': (given, expected) => { expectAll(rectified(given).map(({ outgoingShare }) => outgoingShare), expected); },
  },
  'oc-percent-points-K': {
    'percent, Poisson': (given, expected) => { expectAll(inputsOf(given, 'pa').map((pa) => 100 * qualityAccepted(planOf(given), pa, 'poisson')), expected); },
    'percent, binomial': (given, expected) => { expectAll(inputsOf(given, 'pa').map((pa) => 100 * qualityAccepted(planOf(given), pa)), expected, SOUGHT); },
  },
  'sequential-plan': {
    h1: (_given, expected) => { expectNumber(SEQUENTIAL.h1, expected); },
    h2: (_given, expected) => { expectNumber(SEQUENTIAL.h2, expected); },
    s: (_given, expected) => { expectNumber(SEQUENTIAL.slope, expected); },
    'h1, h2, s unrounded': (_given, expected) => { expectAll([SEQUENTIAL.h1, SEQUENTIAL.h2, SEQUENTIAL.slope], expected); },
  },
};

const PERCENT = Array.from({ length: 14 }, (_, index) => (index + 1) / 100);
const SEQUENTIAL = sequentialPlan(0.01, 0.1, { producer: 0.05, consumer: 0.1 });

describe('sampling plans by attributes', () => {
  test('every value of every case is checked here', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});

const planOf = (given: SpcCase): SamplingPlan => ({ n: inputOf(given, 'n'), acceptance: inputOf(given, 'c') });
const rectified = (given: SpcCase): ReturnType<typeof rectifyingInspection>[] =>
  PERCENT.map((p) => rectifyingInspection(planOf(given), inputOf(given, 'lot'), p));

/** At both ends of each range of lot sizes. */
function expectLetters(given: SpcCase, level: InspectionLevel, { value }: SpcExpected): void {
  const ranges = given.inputs['lot_size_ranges'] as (readonly [number, number | null])[];
  expect(ranges.map(([least]) => codeLetter(least, level))).toEqual(value);
  expect(ranges.map(([least, most]) => codeLetter(most ?? 10 * least, level))).toEqual(value);
}

function expectAll(found: readonly number[], { value, computed, published, tolerance }: SpcExpected, within = 1e-11): void {
  const exactly = ((published ? computed : value) as readonly unknown[]).map(numberOf);
  expect(found).toHaveLength(exactly.length);
  found.forEach((one, index) => {
    expect(Math.abs(one / exactly[index]! - 1)).toBeLessThan(within);
    if (!published) return;
    const bound = Array.isArray(tolerance) ? (tolerance as readonly number[])[index] : tolerance;
    expect(Math.abs(one - numberOf((value as readonly unknown[])[index]))).toBeLessThanOrEqual(numberOf(bound));
  });
}
