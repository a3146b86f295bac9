import { describe, expect, test } from '@jest/globals';
import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import { oneSidedToleranceFactor, oneSidedToleranceFactorByNormal, twoSidedToleranceFactor, type TwoSidedMethod } from '#libs/spc';
import { accountedFor, checked, expectNumber, held, inputOf, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected } from './spc-cases.js';

/** The cases of tolerance intervals; those of sampling plans in the same file are checked in acceptance-sampling.spec.ts. */
const TOLERANCE_CASES = ['tolerance-nist', 'tolerance-two-sided-95-95', 'tolerance-two-sided-classic'];
const CASES = spcCases('09-acceptance-sampling-tolerance.json').filter(({ id }) => TOLERANCE_CASES.includes(id));

/** The program that the cases were computed with integrates to about 8 digits; below are exact factors computed with 25. */
const OTHER_PROGRAM = 5e-8;

const CHECKS: SpcChecks = {
  'tolerance-nist': {
    'k2, two-sided, Howe': (given, expected) => { expectNumber(twoSided(given, 'howe'), expected); },
    'k1, one-sided, normal approximation': (given, expected) => { expectNumber(byNormal(given), expected); },
    // The page mixes this spread with one of 0.0268, and rounds the factor before it is used.
    'upper one-sided limit for mean 97.07, s 2.68': (given, expected) => { expectNumber(97.07 + Number(byNormal(given).toFixed(4)) * 2.68, expected); },
    'k1, one-sided, noncentral t': (given, expected) => { expectNumber(exact(given), expected); },
    'chi-square quantile used for k2': (_given, expected) => { expectNumber(chiSquareQuantile(0.01, 42), expected); },
    'k2 by Howe unrounded': (given, expected) => { expectNumber(twoSided(given, 'howe'), expected); },
    'k2 exact': (given, expected) => { expectNumber(twoSided(given, 'exact'), expected, OTHER_PROGRAM); },
    'k1 exact, noncentral t': (given, expected) => { expectNumber(exact(given), expected); },
    'k1 normal approximation unrounded': (given, expected) => { expectNumber(byNormal(given), expected); },
  },
  'tolerance-two-sided-95-95': {
    k: (given, expected) => { expectFactors(given, 'exact', expected); },
    'k by Howe': (given, expected) => { expectFactors(given, 'howe', expected); },
  },
  'tolerance-two-sided-classic': { k: (given, expected) => { expectFactors(given, 'wald-wolfowitz', expected); } },
};

describe('normal tolerance factors', () => {
  test('every value of every case is checked here', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});

test.each([
  [43, 0.9, 0.99, 2.222825173791124], [2, 0.95, 0.95, 36.51921461206074], [5, 0.95, 0.95, 5.076874532059402],
])('exact two-sided factor of %d values, computed from its definition with 25 digits', (n, content, confidence, k) => {
  expect(Math.abs(twoSidedToleranceFactor(n, content, confidence, 'exact') / k - 1)).toBeLessThan(1e-12);
});

const twoSided = (given: SpcCase, method: TwoSidedMethod): number =>
  twoSidedToleranceFactor(inputOf(given, 'n'), inputOf(given, 'content'), inputOf(given, 'confidence'), method);
const exact = (given: SpcCase): number => oneSidedToleranceFactor(inputOf(given, 'n'), inputOf(given, 'content'), inputOf(given, 'confidence'));
const byNormal = (given: SpcCase): number =>
  oneSidedToleranceFactorByNormal(inputOf(given, 'n'), inputOf(given, 'content'), inputOf(given, 'confidence'));

function expectFactors(given: SpcCase, method: TwoSidedMethod, { value, computed, published, tolerance }: SpcExpected): void {
  inputsOf(given, 'n').forEach((n, index) => {
    const found = twoSidedToleranceFactor(n, inputOf(given, 'content'), inputOf(given, 'confidence'), method);
    const exactly = numberOf(((published ? computed : value) as readonly unknown[])[index]);
    expect(Math.abs(found / exactly - 1)).toBeLessThan(method === 'exact' ? OTHER_PROGRAM : 1e-11);
    if (published) expect(Math.abs(found - numberOf((value as readonly unknown[])[index]))).toBeLessThanOrEqual(numberOf(tolerance));
  });
}
