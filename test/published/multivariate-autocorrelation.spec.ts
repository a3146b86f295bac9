import { describe, expect, test } from '@jest/globals';
import { autocorrelation, autoregression, effectiveCount, lagRegression, naiveChart, summaryOf } from '#libs/spc';
import { accountedFor, checked, expectNumber, held, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected, type SpcLeft } from './spc-cases.js';

const CASES = spcCases('07-multivariate-autocorrelation.json');

const CHECKS: SpcChecks = {
  'ar1-lh': {
    'phi (maximum likelihood)': (given, expected) => { expectMaximum(fit(given).phi, 0.5739243883792632, expected); },
    'mean (maximum likelihood)': (given, expected) => { expectMaximum(fit(given).mean, 2.413285607754134, expected); },
    // The printed one, from a curvature by differences, is 0.0001 smaller than the exact one.
    'se phi': (given, expected) => { expectMaximum(fit(given).phiStandardError, 0.1162055642364394, { ...expected, tolerance: 0.00011 }); },
    'se mean': (given, expected) => { expectMaximum(fit(given).meanStandardError, 0.1466116246919572, expected); },
    sigma2: (given, expected) => { expectMaximum(fit(given).residualVariance, 0.1974895516302837, expected); },
    log_likelihood: (given, expected) => { expectMaximum(fit(given).logLikelihood, -29.37916238626402, expected); },
    // Three parameters: phi, mean and variance.
    aic: (given, expected) => { expectMaximum(2 * 3 - 2 * fit(given).logLikelihood, 64.75832477252804, expected); },
    'phi (Yule-Walker)': (given, expected) => { expectNumber(autocorrelation(inputsOf(given, 'x'), 1).r, expected); },
    lag_1_autocorrelation: (given, expected) => { expectNumber(autocorrelation(inputsOf(given, 'x'), 1).r, expected); },
    sample_mean: (given, expected) => { expectNumber(mean(inputsOf(given, 'x')), expected); },
  },
  'lag-regression-random-walk': {
    a0: (given, expected) => { expectNumber(line(given).intercept, expected); },
    a1: (given, expected) => { expectNumber(line(given).slope, expected); },
    'se a0': (given, expected) => { expectNumber(line(given).interceptStandardError, expected); },
    'se a1': (given, expected) => { expectNumber(line(given).slopeStandardError, expected); },
    residual_sd: (given, expected) => { expectNumber(line(given).residualStandardDeviation, expected); },
    'residual degrees of freedom': (given, expected) => { expectNumber(line(given).degreesOfFreedom, expected); },
    'lag_1_autocorrelation of x': (given, expected) => { expectNumber(autocorrelation(inputsOf(given, 'x'), 1).r, expected); },
  },
  'ar1-identities': {
    'moving-range sigma / true sigma_x = sqrt(1-phi)': (given, expected) => {
      expectList(inputsOf(given, 'phi').map((phi) => naiveChart(phi).spreadRatio), expected.value);
    },
    'expected mean moving range / sigma_x = (2/sqrt(pi)) sqrt(1-phi)': (given, expected) => {
      expectList(inputsOf(given, 'phi').map((phi) => (2 / Math.sqrt(Math.PI)) * naiveChart(phi).spreadRatio), expected.value);
    },
  },
};

const LEFT: SpcLeft = {
  'a relation that nothing here computes': { 'ar1-identities': ['sigma_x = 1/sqrt(1-phi^2)'] },
  'run lengths of charts': { 'arl-ar1-0.4': ['arl'] },
  'charts of several characteristics together': {
    'mean-vector-covariance-nist': ['mean', 'covariance (n-1)'],
    'hotelling-tensile-diameter': [
      'mean of means', 'mean var x1', 'mean var x2', 'mean cov', 't2', 'phase 1 ucl', 'points_beyond_ucl', 'phase 1 ucl unrounded',
      'phase 2 ucl, alpha 0.001', 'chi-square limit, alpha 0.001',
    ],
    'correlation-eigenvalues-nist': ['correlation', 'eigenvalues'],
  },
};

describe('autocorrelation and charts of several characteristics', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});

/** The project's own table of what autocorrelation does to a chart of individual values, checked by simulation elsewhere. */
test.each([
  [0, '0.27', '1.0', 100], [0.3, '1.2', '1.2', 54], [0.5, '3.4', '1.4', 33], [0.7, '10', '1.8', 18], [0.9, '34', '3.2', 5],
])('what autocorrelation of %d does', (phi, outside, overstated, independent) => {
  const { outsideShare, cpkRatio } = naiveChart(phi);
  expect((100 * outsideShare).toFixed(outside.split('.')[1]?.length ?? 0)).toBe(outside);
  expect(cpkRatio.toFixed(1)).toBe(overstated);
  expect(Math.round((100 * effectiveCount(1e9, phi)) / 1e9)).toBe(independent);
});

const fit = (given: SpcCase): ReturnType<typeof autoregression> => autoregression(inputsOf(given, 'x'));
const line = (given: SpcCase): ReturnType<typeof lagRegression> => lagRegression(inputsOf(given, 'x'));
const mean = (values: readonly number[]): number => summaryOf(values).mean;

/**
 * The maximum of the same likelihood, computed with 40 digits. The printed figures are of a program that stopped a little
 * short of it (its likelihood is the smaller one), so that they are held to their printed digits alone.
 */
function expectMaximum(found: number, exact: number, { value, tolerance }: SpcExpected): void {
  expect(Math.abs(found - numberOf(value))).toBeLessThanOrEqual(numberOf(tolerance));
  expect(Math.abs(found / exact - 1)).toBeLessThan(1e-11);
}

function expectList(found: readonly number[], value: unknown): void {
  const list = (value as readonly unknown[]).map(numberOf);
  expect(found).toHaveLength(list.length);
  found.forEach((one, index) => { expect(Math.abs(one - list[index]!)).toBeLessThan(1e-12); });
}
