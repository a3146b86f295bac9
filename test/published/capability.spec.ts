import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { autocorrelation, overallCapability, percentile, ppkInterval, summaryOf, type OverallCapability } from '#libs/spc';
import {
  accountedFor, checked, expectNumber, held, inputOf, inputsOf, numberOf, spcCase, spcCases, type SpcCase, type SpcChecks, type SpcLeft,
} from './spc-cases.js';

const FILE = '05-capability-normality.json';
const CASES = spcCases(FILE);

/**
 * Cp and Cpk of the sources are Pp and Ppk here where they name the standard deviation itself: the formulas are the same,
 * and which deviation goes in is what tells them apart.
 */
const CHECKS: SpcChecks = {
  'capability-nist': {
    cp: (given, expected) => { expectNumber(ofInputs(given).pp!, expected); },
    cpk: (given, expected) => { expectNumber(ofInputs(given).ppk, expected); },
    cpu: (given, expected) => { expectNumber(ofInputs(given).ppkUpper!, expected); },
    cpl: (given, expected) => { expectNumber(ofInputs(given).ppkLower!, expected); },
    // Cpk = (1 − k) Cp.
    k: (given, expected) => { expectNumber(1 - ofInputs(given).ppk / ofInputs(given).pp!, expected); },
  },
  'cp-confidence-interval': {
    cp: (given, expected) => { expectNumber(overall(inputOf(given, 'n'), 50, inputOf(given, 's'), limitsOf(given)).pp!, expected); },
  },
  'cpk-confidence-interval': {
    lower: (given, expected) => { expectNumber(ppkInterval(inputOf(given, 'cpk'), inputOf(given, 'n')).from, expected); },
    upper: (given, expected) => { expectNumber(ppkInterval(inputOf(given, 'cpk'), inputOf(given, 'n')).to, expected); },
  },
  'capability-piston-rings': {
    // Values near 74 with a spread of 0.01 lose four of their sixteen digits before anything is computed.
    'sigma_overall = sample sd of all 125': (_given, expected) => { expectNumber(rings().standardDeviation!, expected, 1e-10); },
    pp: (given, expected) => { expectNumber(overallCapability(rings(), limitsOf(given)).pp!, expected, 1e-10); },
    ppk: (given, expected) => { expectNumber(overallCapability(rings(), limitsOf(given)).ppk, expected, 1e-10); },
  },
  'anderson-darling-chicks': {
    mean: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).mean, expected); },
    s: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).standardDeviation!, expected); },
  },
  'anderson-darling-normal-500': {
    // A mean near 0 of numbers near 1: the last digits are those of their sum.
    mean: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).mean, expected, 1e-11); },
    s: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).standardDeviation!, expected); },
    lag_1_autocorrelation: (given, expected) => { expectNumber(autocorrelation(inputsOf(given, 'x'), 1).r, expected); },
  },
  'cpm-two-processes': {
    cpk: (given, expected) => { processes(given).forEach(({ ppk }, index) => { expect(ppk).toBeCloseTo(listItem(expected.computed, index), 12); }); },
    cp: (given, expected) => { processes(given).forEach(({ pp }, index) => { expect(pp).toBeCloseTo(listItem(expected.value, index), 12); }); },
  },
  'one-sided-bottle': {
    cpl: (given, expected) => {
      const { pp, ppk, ppkUpper } = overall(2, inputOf(given, 'mean'), inputOf(given, 's'), { lower: inputOf(given, 'lsl'), upper: null });
      expectNumber(ppk, expected);
      expect([pp, ppkUpper]).toEqual([null, null]);
    },
  },
};

const LEFT: SpcLeft = {
  'a library of control charts: deviations within subgroups, indices about a target, run-by-run correlation': {
    'capability-nist': ['cpm with target 14'],
    'capability-piston-rings': [
      'sigma from ranges', 'cp', 'sigma_within = mean range / d2', 'cp unrounded', 'cpk unrounded', 'cpm with overall sigma, target 74',
    ],
    'cpm-two-processes': ['cpm', 'cpkm'],
  },
  'intervals of Cp and Pp, which take quantiles of chi squared': {
    'cp-confidence-interval': ['lower', 'upper', 'lower unrounded', 'upper unrounded'],
  },
  'shares beyond limits that are only presumed normal': { 'fallout-ppm': ['one_sided_ppm', 'two_sided_ppm'] },
  'tests of normality and transformations': {
    'anderson-darling-chicks': ['A2', 'A_star', 'p_value'],
    'anderson-darling-normal-500': ['A2', 'A_star (1 + 0.75/n + 2.25/n^2)', 'p_value'],
    'box-cox-microwave': [
      'lambda at maximum to one digit', 'lambda at maximum to two digits',
      'llf at lambda = [-2, -1.5, -1.1, -0.9, -0.5, 0, 0.1, 0.2, 0.3, 0.4, 0.5]', 'lambda_hat', 'llf at lambda_hat', '95 % interval of lambda',
    ],
  },
};

describe('indices of performance', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });

  test('the quantile in the interval is that of the normal distribution', () => {
    // With Ppk = 0 and n = 100 the interval is z/30 to either side.
    const { from, to } = ppkInterval(0, 100);
    expect(normalCdf(30 * to, 0, 1)).toBeCloseTo(0.975, 14);
    expect(from).toBe(-to);
  });
});

/** NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2: twelve gauge measurements of silicon wafers (from memory). */
const WAFERS = [
  95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.061, 95.1591, 95.1195, 95.1065, 95.0925, 95.199, 95.1682,
];

test('the 90th percentile of the wafers is printed as 95.1981', () => {
  expect(percentile(WAFERS, 0.9).toFixed(4)).toBe('95.1981');
});

function limitsOf(given: SpcCase): { lower: number; upper: number } {
  return { lower: inputOf(given, 'lsl'), upper: inputOf(given, 'usl') };
}

function overall(n: number, mean: number, standardDeviation: number, limits: { lower: number | null; upper: number | null }): OverallCapability {
  return overallCapability({ n, mean, standardDeviation }, limits);
}

/** The source names no n, and none of these indices depends on it. */
const ofInputs = (given: SpcCase): OverallCapability => overall(2, inputOf(given, 'mean'), inputOf(given, 's'), limitsOf(given));

function processes(given: SpcCase): OverallCapability[] {
  const list = given.inputs['processes'] as readonly { mean: number; sigma: number }[];
  expect(list).toHaveLength(2);
  return list.map(({ mean, sigma }) => overall(2, mean, sigma, limitsOf(given)));
}

const listItem = (list: unknown, index: number): number => numberOf((list as readonly unknown[])[index]);

const rings = (): ReturnType<typeof summaryOf> =>
  summaryOf((spcCase('02-variables-charts.json', 'xbar-r-piston-rings').inputs['subgroups'] as number[][]).flat());
