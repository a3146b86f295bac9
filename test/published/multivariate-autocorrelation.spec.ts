import { describe, expect, test } from '@jest/globals';
import {
  autocorrelatedRunLength, autocorrelation, autoregression, correlationOf, effectiveCount, hotellingT2, lagRegression, type MeanAndCovariance, meanAndCovariance, naiveChart,
  pooledSubgroups, principalComponents, summaryOf, t2SubgroupLimits,
} from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected, type SpcLeft } from './spc-cases.js';

const CASES = spcCases('07-multivariate-autocorrelation.json');

const CHECKS: SpcChecks = {
  'mean-vector-covariance-nist': {
    mean: (given, expected) => { expectList([...meanAndCovariance(rowsOf(given)).mean], expected.computed); },
    'covariance (n-1)': (given, expected) => { expectRows(meanAndCovariance(rowsOf(given)).covariance, expected.computed); },
  },
  'hotelling-tensile-diameter': {
    'mean of means': (given, expected) => { expectList([...pooled(given).mean], expected.computed); },
    'mean var x1': (given, expected) => { expectNumber(pooled(given).covariance[0]![0]!, expected); },
    'mean var x2': (given, expected) => { expectNumber(pooled(given).covariance[1]![1]!, expected); },
    'mean cov': (given, expected) => {
      expectNumber(pooled(given).covariance[0]![1]!, expected);
      expectNumber(pooled(given).covariance[1]![0]!, expected);
    },
    t2: (given, expected) => {
      const found = t2s(given);
      found.forEach((t2, index) => { expect(t2.toFixed(2)).toBe((expected.value as number[])[index]!.toFixed(2)); });
      expectList(found, expected.computed, 1e-9);
    },
    'phase 1 ucl': (given, expected) => { expectNumber(limits(given).phase1, expected); },
    'phase 1 ucl unrounded': (given, expected) => { expectNumber(limits(given).phase1, expected); },
    points_beyond_ucl: (given, expected) => { expect(t2s(given).filter((t2) => t2 > limits(given).phase1)).toEqual(expected.value); },
    'phase 2 ucl, alpha 0.001': (given, expected) => { expectNumber(limits(given).phase2, expected); },
    'chi-square limit, alpha 0.001': (given, expected) => { expectNumber(limits(given).known, expected); },
  },
  'arl-ar1-0.4': {
    arl: (given, expected) => {
      const multiple = numberOf(given.inputs['c']);
      const found = inputsOf(given, 'shift_in_process_sigma').map((shift) => autocorrelatedRunLength(numberOf(given.inputs['phi']), { multiple, shift }));
      found.forEach((arl, index) => {
        expect(Math.abs(arl - (expected.value as number[])[index]!)).toBeLessThanOrEqual(numberOf(expected.tolerance));
        expect(Math.abs(arl / (expected.computed as number[])[index]! - 1)).toBeLessThan(1e-10);
      });
      expect(found).toHaveLength(9);
    },
  },
  'correlation-eigenvalues-nist': {
    correlation: (given, expected) => { expectRows(correlationOf(meanAndCovariance(rowsOf(given)).covariance), expected.computed); },
    eigenvalues: (given, expected) => {
      expectNumbers(principalComponents(correlationOf(meanAndCovariance(rowsOf(given)).covariance)).map(({ variance }) => variance), expected);
    },
  },
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

function expectList(found: readonly number[], value: unknown, within = 1e-12): void {
  const list = (value as readonly unknown[]).map(numberOf);
  expect(found).toHaveLength(list.length);
  found.forEach((one, index) => { expect(Math.abs(one - list[index]!)).toBeLessThan(within); });
}

function expectRows(found: readonly (readonly number[])[], value: unknown): void {
  expect(found).toHaveLength((value as readonly unknown[]).length);
  found.forEach((row, index) => { expectList(row, (value as readonly unknown[])[index]); });
}

const rowsOf = (given: SpcCase): number[][] => given.inputs['x'] as number[][];

/** The subgroups of the case, which tells their variances and covariance. */
function pooled(given: SpcCase): MeanAndCovariance {
  const [x1, x2, var1, var2, cov] = ['subgroup_mean_x1', 'subgroup_mean_x2', 'subgroup_var_x1', 'subgroup_var_x2', 'subgroup_cov']
    .map((name) => inputsOf(given, name));
  return pooledSubgroups(x1!.map((mean, index) => ({
    n: 10, mean: [mean, x2![index]!], covariance: [[var1![index]!, cov![index]!], [cov![index]!, var2![index]!]],
  })));
}

/** By the rounded means and covariance that the source computes with. */
function t2s(given: SpcCase): number[] {
  const used = { mean: inputsOf(given, 'center_used'), covariance: given.inputs['covariance_used'] as number[][] };
  const [x1, x2] = [inputsOf(given, 'subgroup_mean_x1'), inputsOf(given, 'subgroup_mean_x2')];
  expect(x1).toHaveLength(20);
  return x1.map((mean, index) => hotellingT2([mean, x2[index]!], used, 10));
}

const limits = (given: SpcCase): ReturnType<typeof t2SubgroupLimits> =>
  t2SubgroupLimits(20, 10, { characteristics: 2, alpha: numberOf(given.inputs['alpha']) });
