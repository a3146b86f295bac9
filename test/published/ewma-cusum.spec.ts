import { describe, expect, test } from '@jest/globals';
import {
  cusumDecisionInterval, type CusumPoint, cusumPoints, cusumRunLength, type ChartPoint, ewmaPoints, ewmaRunLength, oneSidedCusumRunLength, pointsBeyond,
} from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputOf, inputsOf, numberOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected } from './spc-cases.js';

const CASES = spcCases('03-ewma-cusum.json');
/** Sums of differences near 0 of values near 325: absolute, since the differences have lost three digits. */
const SUMS_WITHIN = 1e-10;
const WITHIN = 1e-9;

const average = (given: SpcCase): ChartPoint[] => ewmaPoints(inputsOf(given, 'x'), {
  target: inputOf(given, 'start'), sigma: inputOf(given, 'sigma'), lambda: inputOf(given, 'lambda'), width: inputOf(given, 'L'),
}, { limits: 'final' });
const sums = (given: SpcCase): CusumPoint[] =>
  cusumPoints(inputsOf(given, 'x'), { target: inputOf(given, 'target'), k: inputOf(given, 'k'), h: inputOf(given, 'h') });
const summed = (pick: (of: CusumPoint) => number) => (given: SpcCase, { value, computed, tolerance }: SpcExpected): void => {
  sums(given).map(pick).forEach((found, index) => {
    expect(Math.abs(found - (computed as number[])[index]!)).toBeLessThan(SUMS_WITHIN);
    // Some printed values are halves, and lie on the edge of their rounding.
    expect(Math.abs(found - (value as number[])[index]!)).toBeLessThanOrEqual(numberOf(tolerance) + SUMS_WITHIN);
  });
};
const signalling = (side: 'high' | 'low') => (given: SpcCase, { value }: SpcExpected): void => {
  expect(sums(given).filter(({ signals }) => signals.some((one) => one.side === side)).map(({ point }) => point)).toEqual(value);
};
const shifts = (given: SpcCase, of = given.inputs): number[] => of['shift_in_sigma'] as number[];
const ewmaLengths = (lambda: number, width: number) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumbers(shifts(given).map((shift) => ewmaRunLength(lambda, width, shift)), expected, WITHIN);
};
const twoSided = (headStart: number) => (given: SpcCase, expected: SpcExpected): void => {
  const [k, h] = [inputOf(given, 'k'), inputOf(given, 'h')];
  expectNumbers(shifts(given).map((shift) => cusumRunLength({ k, h, headStart }, shift)), expected, WITHIN);
};
const oneSided = (h: number, at: readonly number[]) => (given: SpcCase, expected: SpcExpected): void => {
  const found = at.map((shift) => oneSidedCusumRunLength({ k: inputOf(given, 'k'), h }, shift));
  if (Array.isArray(expected.value)) expectNumbers(found, expected, WITHIN);
  else expectNumber(found[0]!, expected, WITHIN);
};
const scheme = (name: string) => (given: SpcCase, expected: SpcExpected): void => {
  const inputs = given.inputs[name] as Record<string, unknown>;
  const design = { k: numberOf(inputs['k']), h: numberOf(inputs['h']) };
  expectNumbers(shifts(given, inputs).map((shift) => oneSidedCusumRunLength(design, shift)), expected, WITHIN);
};
const near = (length: (of: { k: number; h: number }) => number) => (given: SpcCase, { value }: SpcExpected): void => {
  expect(Math.abs(length({ k: inputOf(given, 'k'), h: inputOf(given, 'h') }) / numberOf(value) - 1)).toBeLessThan(0.01);
};
const SHIFTS = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4];

const CHECKS: SpcChecks = {
  'ewma-nist': {
    ewma: (given, expected) => { expectNumbers(average(given).map(({ value }) => value), expected); },
    ucl: (given, expected) => { expectNumber(average(given)[0]!.upper, expected); },
    lcl: (given, expected) => { expectNumber(average(given)[0]!.lower, expected); },
    points_beyond_limits: (given, expected) => { expect(pointsBeyond(average(given))).toEqual(expected.value); },
  },
  'cusum-nist': {
    s_hi: summed(({ high }) => high), s_lo: summed(({ low }) => low), cusum: summed(({ sum }) => sum),
    groups_with_s_hi_above_h: signalling('high'), groups_with_s_lo_above_h: signalling('low'),
  },
  'arl-cusum-lucas-crosier-h4': { arl: twoSided(0), arl_head_start_2: twoSided(2) },
  'arl-cusum-one-sided': {
    arl_h4: oneSided(4, [0]), arl_h5: oneSided(5, [0]),
    'arl_h4 for shifts [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4]': oneSided(4, SHIFTS),
    'arl_h5 for shifts [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4]': oneSided(5, SHIFTS),
  },
  'arl-ewma-lucas-saccucci': { 'arl lambda=0.5 L=3.071': ewmaLengths(0.5, 3.071), 'arl lambda=0.03 L=2.437': ewmaLengths(0.03, 2.437) },
  'arl-cusum-vance': { 'vance arl': scheme('vance'), 'brook_evans arl': scheme('brook_evans'), 'waldmann arl': scheme('waldmann') },
  'cusum-design-hawkins': {
    h: (given, expected) => { expectNumbers(inputsOf(given, 'k').map((k) => cusumDecisionInterval(k, inputOf(given, 'arl0'))), expected, WITHIN); },
  },
  // An approximation of what is worked out here: one in a hundred off.
  'arl-cusum-siegmund': {
    one_sided_arl: near((design) => oneSidedCusumRunLength(design, 0)), two_sided_arl: near((design) => cusumRunLength(design, 0)),
  },
};

describe('EWMA and CUSUM, against worked examples and published run lengths', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});
