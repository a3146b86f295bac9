import { describe, expect, test } from '@jest/globals';
import {
  controlChartFactors, individualsCharts, meanDeviationCharts, meanRangeCharts, pointsBeyond, summaryOf, type ControlChartFactors, type IndividualsCharts,
  type MeanDeviationCharts, type MeanRangeCharts,
} from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected, type SpcLeft } from './spc-cases.js';

const CASES = spcCases('02-variables-charts.json');

/** Values near 74 with a spread of 0.01 lose four of their sixteen digits before anything is computed. */
const WITHIN = 1e-9;

type Check = (given: SpcCase, expected: SpcExpected) => void;
const number = <Charts>(charts: (given: SpcCase) => Charts, pick: (of: Charts) => number): Check => (given, expected) => {
  expectNumber(pick(charts(given)), expected, WITHIN);
};
const list = <Charts>(charts: (given: SpcCase) => Charts, pick: (of: Charts) => readonly number[]): Check => (given, expected) => {
  expectNumbers(pick(charts(given)), expected, WITHIN);
};
const same = <Charts>(charts: (given: SpcCase) => Charts, pick: (of: Charts) => readonly number[]): Check => (given, expected) => {
  expect(pick(charts(given))).toEqual(expected.value);
};

const subgroups = ({ inputs }: SpcCase): number[][] => inputs['subgroups'] as number[][];
const byRange = (given: SpcCase): MeanRangeCharts => meanRangeCharts(subgroups(given));
const byDeviation = (given: SpcCase): MeanDeviationCharts => meanDeviationCharts(subgroups(given));
const pooled = (given: SpcCase): MeanDeviationCharts => meanDeviationCharts(subgroups(given), [], 'pooled');
const individuals = (given: SpcCase): IndividualsCharts => individualsCharts(inputsOf(given, 'x'));
/** A factor of subgroups of n, as tables print it. */
const printed = (symbol: keyof ControlChartFactors, n: number, decimals: number): number => rounded(controlChartFactors(n)[symbol], decimals);
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));
const beyondEither = ({ means, spreads }: MeanRangeCharts | MeanDeviationCharts): number[] => [...pointsBeyond(means), ...pointsBeyond(spreads)];

const CHECKS: SpcChecks = {
  'imr-nist-flow-rate': {
    mean: number(individuals, ({ mean }) => mean),
    sample_sd: (given, expected) => { expectNumber(summaryOf(inputsOf(given, 'x')).standardDeviation!, expected); },
    moving_ranges: list(individuals, ({ movingRanges }) => movingRanges.map(({ value }) => value)),
    mean_moving_range: number(individuals, ({ meanMovingRange }) => meanMovingRange),
    // Printed limits take d2 as 1.128.
    ucl_x: number(individuals, ({ mean, meanMovingRange }) => mean + 3 * meanMovingRange / printed('d2', 2, 3)),
    lcl_x: number(individuals, ({ mean, meanMovingRange }) => mean - 3 * meanMovingRange / printed('d2', 2, 3)),
    points_beyond_x_limits: same(individuals, ({ values }) => pointsBeyond(values)),
    'ucl_x with d2 = 2/sqrt(pi)': number(individuals, ({ values }) => values[0]!.upper),
    'lcl_x with d2 = 2/sqrt(pi)': number(individuals, ({ values }) => values[0]!.lower),
    'ucl_mr with D4 = 3.267': number(individuals, ({ meanMovingRange }) => printed('D4', 2, 3) * meanMovingRange),
  },
  'xbar-r-piston-rings': {
    grand_mean: number(byRange, ({ grandMean }) => grandMean),
    mean_range: number(byRange, ({ meanRange }) => meanRange),
    sum_of_ranges: number(byRange, ({ spreads }) => spreads.reduce((sum, { value }) => sum + value, 0)),
    // Printed limits take A2 = 0.577 and the mean range rounded to 0.023.
    ucl_xbar: number(byRange, ({ grandMean, meanRange }) => grandMean + printed('A2', 5, 3) * rounded(meanRange, 3)),
    lcl_xbar: number(byRange, ({ grandMean, meanRange }) => grandMean - printed('A2', 5, 3) * rounded(meanRange, 3)),
    lcl_r: number(byRange, ({ spreads }) => spreads[0]!.lower),
    'ranges of samples 3, 8, 11, 21, 22, 23, 24, 25': list(byRange, ({ spreads }) =>
      [3, 8, 11, 21, 22, 23, 24, 25].map((point) => spreads[point - 1]!.value)),
    subgroup_ranges: list(byRange, ({ spreads }) => spreads.map(({ value }) => value)),
    points_beyond_limits: same(byRange, beyondEither),
    'grand_mean unrounded': number(byRange, ({ grandMean }) => grandMean),
    'mean_range unrounded': number(byRange, ({ meanRange }) => meanRange),
    'ucl_xbar unrounded factors and inputs': number(byRange, ({ means }) => means[0]!.upper),
    'lcl_xbar unrounded factors and inputs': number(byRange, ({ means }) => means[0]!.lower),
    'ucl_r unrounded factors and inputs': number(byRange, ({ spreads }) => spreads[0]!.upper),
    'sigma = mean range / d2': number(byRange, ({ sigma }) => sigma),
  },
  'xbar-s-piston-rings': {
    grand_mean: number(byDeviation, ({ grandMean }) => grandMean),
    mean_s: number(byDeviation, ({ meanDeviation }) => meanDeviation),
    sum_of_s: number(byDeviation, ({ spreads }) => spreads.reduce((sum, { value }) => sum + value, 0)),
    // Printed limits take A3 = 1.427 and B4 = 2.089, and the mean deviation rounded to 0.0094.
    ucl_xbar: number(byDeviation, ({ grandMean, meanDeviation }) => rounded(grandMean, 3) + printed('A3', 5, 3) * rounded(meanDeviation, 4)),
    lcl_xbar: number(byDeviation, ({ grandMean, meanDeviation }) => rounded(grandMean, 3) - printed('A3', 5, 3) * rounded(meanDeviation, 4)),
    ucl_s: number(byDeviation, ({ meanDeviation }) => printed('B4', 5, 3) * rounded(meanDeviation, 4)),
    lcl_s: number(byDeviation, ({ spreads }) => spreads[0]!.lower),
    subgroup_s: list(byDeviation, ({ spreads }) => spreads.map(({ value }) => value)),
    'mean_s unrounded': number(byDeviation, ({ meanDeviation }) => meanDeviation),
    'ucl_xbar unrounded factors and inputs': number(byDeviation, ({ means }) => means[0]!.upper),
    'lcl_xbar unrounded factors and inputs': number(byDeviation, ({ means }) => means[0]!.lower),
    'ucl_s unrounded factors and inputs': number(byDeviation, ({ spreads }) => spreads[0]!.upper),
    'sigma = mean s / c4': number(byDeviation, ({ sigma }) => sigma),
  },
  'xbar-s-variable-n': {
    grand_mean: number(pooled, ({ grandMean }) => grandMean),
    s_bar: number(pooled, ({ meanDeviation }) => meanDeviation),
    points_beyond_limits: same(pooled, beyondEither),
    'grand_mean unrounded': number(pooled, ({ grandMean }) => grandMean),
    's_bar unrounded': number(pooled, ({ meanDeviation }) => meanDeviation),
    'limits [n, lcl_x, ucl_x, lcl_s, ucl_s] from unrounded inputs': (given, expected) => {
      const { means, spreads } = pooled(given);
      for (const [n, ...limits] of expected.value as [number, ...number[]][]) {
        const index = subgroups(given).findIndex(({ length }) => length === n);
        const found = [means[index]!, spreads[index]!].flatMap(({ lower, upper }) => [lower, upper]);
        expectNumbers(found, { ...expected, value: limits }, WITHIN);
      }
    },
  },
  'imr-loan-cost': {
    mean: number(individuals, ({ mean }) => mean),
    mean_moving_range: number(individuals, ({ meanMovingRange }) => meanMovingRange),
    ucl_x: number(individuals, ({ mean, meanMovingRange }) => mean + 3 * rounded(meanMovingRange, 2) / printed('d2', 2, 3)),
    lcl_x: number(individuals, ({ mean, meanMovingRange }) => mean - 3 * rounded(meanMovingRange, 2) / printed('d2', 2, 3)),
    ucl_mr: number(individuals, ({ meanMovingRange }) => printed('D4', 2, 3) * rounded(meanMovingRange, 2)),
    lcl_mr: number(individuals, ({ movingRanges }) => movingRanges[0]!.lower),
    points_beyond_limits: same(individuals, ({ values, movingRanges }) => [...pointsBeyond(values), ...pointsBeyond(movingRanges)]),
    'ucl_x unrounded': number(individuals, ({ values }) => values[0]!.upper),
    'lcl_x unrounded': number(individuals, ({ values }) => values[0]!.lower),
    'ucl_mr unrounded': number(individuals, ({ movingRanges }) => movingRanges[0]!.upper),
  },
};

const LEFT: SpcLeft = {
  'an older table, which prints D4 of 5 as 2.115 where the definition gives 2.1145; held below without rounding': { 'xbar-r-piston-rings': ['ucl_r'] },
};

describe('charts of variables, against worked examples', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });

  test('the printed limit of the range is ours to its last digit but one', () => {
    const given = CASES.find(({ id }) => id === 'xbar-r-piston-rings')!;
    const value = numberOf(given.expected.find(({ name }) => name === 'ucl_r')!.value);
    expect(Math.abs(byRange(given).spreads[0]!.upper - value)).toBeLessThan(0.0005);
  });
});
