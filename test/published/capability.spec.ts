import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { conformanceProbability } from '#libs/conformity';
import {
  andersonDarling, autocorrelation, bestBoxCox, boxCoxLogLikelihood, capabilityIndices, cpInterval, cpkInterval, meanRelativeRange, overallCapability,
  percentile, ppkInterval, summaryOf, targetIndices, type OverallCapability, type TargetIndices,
} from '#libs/spc';
import {
  accountedFor, checked, expectNumber, expectNumbers, held, inputOf, inputsOf, numberOf, spcCase, spcCases, type SpcCase, type SpcChecks,
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
    'cpm with target 14': (given, expected) => { expectNumber(aboutTarget(given, inputOf(given, 'mean'), inputOf(given, 's')).cpm.value, expected); },
  },
  'cp-confidence-interval': {
    cp: (given, expected) => { expectNumber(overall(inputOf(given, 'n'), 50, inputOf(given, 's'), limitsOf(given)).pp!, expected); },
    // The printed limits are those of the printed Cp.
    lower: (given, expected) => { expectNumber(cpInterval(2.29, inputOf(given, 'n') - 1).from, expected); },
    upper: (given, expected) => { expectNumber(cpInterval(2.29, inputOf(given, 'n') - 1).to, expected); },
    'lower unrounded': (given, expected) => { expectNumber(cpInterval(24 / 10.5, inputOf(given, 'n') - 1).from, expected); },
    'upper unrounded': (given, expected) => { expectNumber(cpInterval(24 / 10.5, inputOf(given, 'n') - 1).to, expected); },
  },
  'cpk-confidence-interval': {
    lower: (given, expected) => {
      expectNumber(ppkInterval(inputOf(given, 'cpk'), inputOf(given, 'n')).from, expected);
      expectNumber(bissell(given).from, expected);
    },
    upper: (given, expected) => {
      expectNumber(ppkInterval(inputOf(given, 'cpk'), inputOf(given, 'n')).to, expected);
      expectNumber(bissell(given).to, expected);
    },
  },
  'capability-piston-rings': {
    // Values near 74 with a spread of 0.01 lose four of their sixteen digits before anything is computed.
    'sigma_overall = sample sd of all 125': (_given, expected) => { expectNumber(rings().standardDeviation!, expected, 1e-10); },
    pp: (given, expected) => { expectNumber(overallCapability(rings(), limitsOf(given)).pp!, expected, 1e-10); },
    ppk: (given, expected) => { expectNumber(overallCapability(rings(), limitsOf(given)).ppk, expected, 1e-10); },
    // Printed figures take the mean range as 0.023 and d2 as 2.326, and go on with the deviation as they print it.
    'sigma from ranges': (_given, expected) => { expectNumber(asPrinted(ringsWithin() * meanRelativeRange(5), 3) / asPrinted(meanRelativeRange(5), 3), expected); },
    cp: (given, expected) => { expectNumber(overall(125, 74, 0.0099, limitsOf(given)).pp!, expected, 1e-11); },
    'sigma_within = mean range / d2': (_given, expected) => { expectNumber(ringsWithin(), expected, 1e-10); },
    'cp unrounded': (given, expected) => { expectNumber(ringIndices(given).cp!.value, expected, 1e-10); },
    'cpk unrounded': (given, expected) => { expectNumber(ringIndices(given).cpk.value, expected, 1e-10); },
    'cpm with overall sigma, target 74': (given, expected) => {
      const { mean, standardDeviation } = rings();
      expectNumber(aboutTarget(given, mean, standardDeviation!).cpm.value, expected, 1e-10);
    },
  },
  'anderson-darling-chicks': {
    mean: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).mean, expected); },
    s: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).standardDeviation!, expected); },
    A2: (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).statistic, expected); },
    A_star: (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).adjusted, expected); },
    p_value: (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).p, expected); },
  },
  'anderson-darling-normal-500': {
    // A mean near 0 of numbers near 1: the last digits are those of their sum.
    mean: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).mean, expected, 1e-11); },
    s: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).standardDeviation!, expected); },
    A2: (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).statistic, expected); },
    'A_star (1 + 0.75/n + 2.25/n^2)': (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).adjusted, expected); },
    p_value: (given, expected) => { expectNumber(andersonDarling(inputsOf(given, 'x')).p, expected); },
    lag_1_autocorrelation: (given, expected) => { expectNumber(autocorrelation(inputsOf(given, 'x'), 1).r, expected); },
  },
  'box-cox-microwave': {
    'lambda at maximum to one digit': (given, expected) => { expect(Number(bestBoxCox(inputsOf(given, 'x')).lambda.toFixed(1))).toBe(expected.value); },
    'lambda at maximum to two digits': (given, expected) => { expect(Number(bestBoxCox(inputsOf(given, 'x')).lambda.toFixed(2))).toBe(expected.value); },
    'llf at lambda = [-2, -1.5, -1.1, -0.9, -0.5, 0, 0.1, 0.2, 0.3, 0.4, 0.5]': (given, expected) => {
      [-2, -1.5, -1.1, -0.9, -0.5, 0, 0.1, 0.2, 0.3, 0.4, 0.5].forEach((lambda, index) => {
        const found = boxCoxLogLikelihood(inputsOf(given, 'x'), lambda);
        expect(Math.abs(found - listItem(expected.computed, index))).toBeLessThan(1e-9);
        expect(Math.abs(found - listItem(expected.value, index))).toBeLessThanOrEqual(numberOf(expected.tolerance));
      });
    },
    // The other program sought the maximum by its values, which finds half of the digits.
    lambda_hat: (given, expected) => { expectNumber(bestBoxCox(inputsOf(given, 'x')).lambda, expected, 1e-7); },
    'llf at lambda_hat': (given, expected) => { expectNumber(bestBoxCox(inputsOf(given, 'x')).logLikelihood, expected); },
    '95 % interval of lambda': (given, expected) => {
      const { from, to } = bestBoxCox(inputsOf(given, 'x')).interval;
      expect(Math.abs(from! - listItem(expected.value, 0))).toBeLessThan(1e-9);
      expect(Math.abs(to! - listItem(expected.value, 1))).toBeLessThan(1e-9);
    },
  },
  'cpm-two-processes': {
    cpm: (given, expected) => { processTargets(given).forEach(({ cpm }, index) => { expect(cpm.value).toBeCloseTo(listItem(expected.computed, index), 12); }); },
    cpkm: (given, expected) => { processTargets(given).forEach(({ cpmk }, index) => { expect(cpmk).toBeCloseTo(listItem(expected.value, index), 12); }); },
    cpk: (given, expected) => { processes(given).forEach(({ ppk }, index) => { expect(ppk).toBeCloseTo(listItem(expected.computed, index), 12); }); },
    cp: (given, expected) => { processes(given).forEach(({ pp }, index) => { expect(pp).toBeCloseTo(listItem(expected.value, index), 12); }); },
  },
  // What a process is presumed to let by, whose values are normal and whose nearer limit lies 3 Cp deviations off.
  'fallout-ppm': {
    one_sided_ppm: (given, expected) => { expectNumbers(inputsOf(given, 'cp').map((cp) => 1e6 * conformanceProbability(0, 1, 3 * cp, null)), expected); },
    two_sided_ppm: (given, expected) => {
      expectNumbers(inputsOf(given, 'cp').map((cp) => 1e6 * (conformanceProbability(0, 1, 3 * cp, null) + conformanceProbability(0, 1, null, -3 * cp))), expected);
    },
  },
  'one-sided-bottle': {
    cpl: (given, expected) => {
      const { pp, ppk, ppkUpper } = overall(2, inputOf(given, 'mean'), inputOf(given, 's'), { lower: inputOf(given, 'lsl'), upper: null });
      expectNumber(ppk, expected);
      expect([pp, ppkUpper]).toEqual([null, null]);
    },
  },
};

describe('indices of performance', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
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

const aboutTarget = (given: SpcCase, mean: number, standardDeviation: number): TargetIndices =>
  targetIndices({ n: 125, mean, standardDeviation, degreesOfFreedom: 124 }, limitsOf(given), inputOf(given, 'target'));

const bissell = (given: SpcCase): ReturnType<typeof cpkInterval> =>
  cpkInterval(inputOf(given, 'cpk'), { n: inputOf(given, 'n'), degreesOfFreedom: inputOf(given, 'n') - 1 });

function processTargets(given: SpcCase): TargetIndices[] {
  const list = given.inputs['processes'] as readonly { mean: number; sigma: number }[];
  expect(list).toHaveLength(2);
  return list.map(({ mean, sigma }) => aboutTarget(given, mean, sigma));
}

function processes(given: SpcCase): OverallCapability[] {
  const list = given.inputs['processes'] as readonly { mean: number; sigma: number }[];
  expect(list).toHaveLength(2);
  return list.map(({ mean, sigma }) => overall(2, mean, sigma, limitsOf(given)));
}

const asPrinted = (value: number, decimals: number): number => Number(value.toFixed(decimals));
const listItem = (list: unknown, index: number): number => numberOf((list as readonly unknown[])[index]);

function ringGroups(): number[][] {
  return spcCase('02-variables-charts.json', 'xbar-r-piston-rings').inputs['subgroups'] as number[][];
}

const ringsWithin = (): number => summaryOf(ringGroups().map((group) => Math.max(...group) - Math.min(...group))).mean / meanRelativeRange(5);

const ringIndices = (given: SpcCase): ReturnType<typeof capabilityIndices> =>
  capabilityIndices({ n: 125, mean: rings().mean, standardDeviation: ringsWithin(), degreesOfFreedom: 90 }, limitsOf(given));

const rings = (): ReturnType<typeof summaryOf> =>
  summaryOf(ringGroups().flat());
