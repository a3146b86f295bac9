import { describe, expect, test } from '@jest/globals';
import { autocorrelation, summaryOf } from '#libs/spc';
import { accountedFor, checked, expectNumber, held, inputOf, inputsOf, spcCases, type SpcCase, type SpcChecks } from './spc-cases.js';

/** Reference datasets with certified values, some of them made to break careless summation. */
const CASES = spcCases('10-nist-strd-univariate.json');

/**
 * Relative error of the standard deviation and of the autocorrelation. The measured datasets are held to the accuracy of a double. The decimals of the
 * made ones are no doubles: of 1000000.1 with a spread of 0.1 a double keeps nine digits of the spread, whatever is done.
 */
const SPREAD_WITHIN: Readonly<Record<string, number>> = {
  'strd-lew': 1e-12, 'strd-lottery': 1e-12, 'strd-michelso': 1e-12, 'strd-numacc1': 1e-15, 'strd-numacc2': 1e-12, 'strd-numacc3': 1e-9,
};

const MEAN_WITHIN = 1e-14;

const CHECKS: SpcChecks = Object.fromEntries(Object.entries(SPREAD_WITHIN).map(([id, within]) => [id, {
  mean: (given, expected) => { expectNumber(summaryOf(valuesOf(given)).mean, expected, MEAN_WITHIN); },
  sd: (given, expected) => { expectNumber(summaryOf(valuesOf(given)).standardDeviation!, expected, within); },
  lag_1_autocorrelation: (given, expected) => { expectNumber(autocorrelation(valuesOf(given), 1).r, expected, within); },
}])) satisfies SpcChecks;

describe('summaries of reference datasets', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});

/** The values themselves, or those that the case says how to write down. */
function valuesOf(given: SpcCase): number[] {
  const values = 'y' in given.inputs ? inputsOf(given, 'y') : [inputOf(given, 'first'), ...repeated(inputsOf(given, 'then_repeat'), inputOf(given, 'times'))];
  expect(values).toHaveLength(inputOf(given, 'n'));
  return values;
}

const repeated = (list: readonly number[], times: number): number[] => Array.from({ length: times }, () => list).flat();

/** NIST StRD, univariate summary statistics, NumAcc4: its rule and its certified values are from memory, and no case holds it. */
test('of 10000000.1 with a spread of 0.1 a double keeps eight digits of the spread', () => {
  const values = [10000000.2, ...repeated([10000000.1, 10000000.3], 500)];
  const { mean, standardDeviation } = summaryOf(values);
  expect(Math.abs(mean / 10000000.2 - 1)).toBeLessThan(MEAN_WITHIN);
  expect(Math.abs(standardDeviation! / 0.1 - 1)).toBeLessThan(2e-8);
  expect(Math.abs(autocorrelation(values, 1).r / -0.999 - 1)).toBeLessThan(2e-8);
});
