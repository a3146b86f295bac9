import { describe, expect, test } from '@jest/globals';
import { autocorrelation, summaryOf } from '#libs/spc';
import { accountedFor, checked, expectNumber, held, inputOf, inputsOf, spcCases, type SpcCase, type SpcChecks } from './spc-cases.js';

/** Reference datasets with certified values, some of them made to break careless summation. */
const CASES = spcCases('10-nist-strd-univariate.json');

/** Relative error of the standard deviation and of the autocorrelation. */
const SPREAD_WITHIN: Readonly<Record<string, number>> = {
  'strd-lew': 1e-12, 'strd-lottery': 1e-12, 'strd-michelso': 1e-12, 'strd-numacc1': 1e-15, 'strd-numacc2': 1e-12, 'strd-numacc3': 1e-15,
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

interface Certified {
  readonly name: string;
  readonly values: readonly number[];
  readonly mean: number;
  readonly standardDeviation: number;
  readonly r: number;
}

/**
 * NIST Statistical Reference Datasets (StRD), univariate summary statistics, https://www.itl.nist.gov/div898/strd/univ/homepage.html: those that no case
 * holds, with values, rules and certified figures as two public copies of its files have them. The digits of pi are computed here; those
 * of the file, and its figures, have a 3 where the 957th digit of pi is an 8.
 */
const CERTIFIED: readonly Certified[] = [
  {
    name: 'Mavro, filter transmittance', mean: 2.001856, standardDeviation: 0.000429123454003053, r: 0.937989183438248,
    values: [
      2.0018, 2.0017, 2.0018, 2.0019, 2.0018, 2.0017, 2.0015, 2.0014, 2.0015, 2.0015, 2.0017, 2.0018, 2.0018, 2.0019, 2.0019, 2.0021, 2.002, 2.0016, 2.0014, 2.0013,
      2.0013, 2.0015, 2.0015, 2.0016, 2.0015, 2.0014, 2.0013, 2.0014, 2.0015, 2.0014, 2.0015, 2.0016, 2.0015, 2.0016, 2.0019, 2.002, 2.002, 2.0021, 2.0022, 2.0023,
      2.0024, 2.0025, 2.0027, 2.0026, 2.0026, 2.0026, 2.0027, 2.0026, 2.0025, 2.0024,
    ],
  },
  { name: 'PiDigits, the first 5000 digits of pi but for one', mean: 4.5348, standardDeviation: 2.86733906028871, r: -0.00355099287237972, values: digitsOfPi(5_000).with(956, 3) },
  { name: 'NumAcc4, 10000000.1 and 10000000.3 by turns', mean: 10000000.2, standardDeviation: 0.1, r: -0.999, values: [10000000.2, ...repeated([10000000.1, 10000000.3], 500)] },
];

test('the one digit in which the file differs from pi', () => {
  expect(digitsOfPi(5_000)[956]).toBe(8);
});

test.each(CERTIFIED)('$name, to the certified digits', ({ values, mean, standardDeviation, r }) => {
  const found = summaryOf(values);
  expect(Math.abs(found.mean / mean - 1)).toBeLessThan(1e-15);
  expect(Math.abs(found.standardDeviation! / standardDeviation - 1)).toBeLessThan(3e-15);
  // Products that cancel to a part in 280, as of the digits of pi, keep two digits fewer.
  expect(Math.abs(autocorrelation(values, 1).r / r - 1)).toBeLessThan(1e-13);
});

/** By Machin's formula, pi/4 = 4 arctan 1/5 - arctan 1/239 (J. Machin, 1706), in whole numbers with ten digits to spare. */
function digitsOfPi(count: number): number[] {
  const one = 10n ** BigInt(count + 10);
  const arctanOfOneOver = (x: bigint): bigint => {
    let [sum, power, sign] = [0n, one / x, 1n];
    for (let odd = 1n; power > 0n; odd += 2n) {
      sum += sign * (power / odd);
      power /= x * x;
      sign = -sign;
    }
    return sum;
  };
  const pi = 4n * (4n * arctanOfOneOver(5n) - arctanOfOneOver(239n));
  return [...pi.toString()].slice(0, count).map(Number);
}
