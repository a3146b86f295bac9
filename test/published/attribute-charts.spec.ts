import { describe, expect, test } from '@jest/globals';
import {
  adjustedPChart, type AttributeChart, cChart, type Counted, npChart, pChart, pointsBeyond, ratePoints, standardised, uChart,
} from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputsOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected, type SpcLeft } from './spc-cases.js';

const CASES = spcCases('04-attribute-charts.json');
const WITHIN = 1e-11;

type Check = (given: SpcCase, expected: SpcExpected) => void;
const number = <Chart>(chart: (given: SpcCase) => Chart, pick: (of: Chart) => number): Check => (given, expected) => {
  expectNumber(pick(chart(given)), expected, WITHIN);
};
const list = <Chart>(chart: (given: SpcCase) => Chart, pick: (of: Chart) => readonly number[]): Check => (given, expected) => {
  expectNumbers(pick(chart(given)), expected, WITHIN);
};
const beyond = (chart: (given: SpcCase) => AttributeChart): Check => (given, expected) => { expect(pointsBeyond(chart(given).points)).toEqual(expected.value); };

const counted = (given: SpcCase, counts: string, of: string): Counted[] => {
  const sizes = given.inputs[of];
  return inputsOf(given, counts).map((count, index) => ({ count, of: typeof sizes === 'number' ? sizes : (sizes as number[])[index]! }));
};
const reworked = (points: readonly number[]): { point: number; reason: string }[] => points.map((point) => ({ point, reason: 'cause found' }));
const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

const items = (given: SpcCase): Counted[] => counted(given, 'defective', 'n');
const units = (given: SpcCase): Counted[] => counted(given, 'defects', 'units');
const c = (given: SpcCase): AttributeChart => cChart(inputsOf(given, 'counts'));
const p = (given: SpcCase): AttributeChart => pChart(items(given));
const np = (given: SpcCase): AttributeChart => npChart(items(given));
const u = (given: SpcCase): AttributeChart => uChart(units(given));
const withoutTwo = (given: SpcCase): AttributeChart => pChart(items(given), reworked([15, 23]));
const boardsWithoutTwo = (given: SpcCase): AttributeChart => cChart(inputsOf(given, 'counts'), reworked([6, 20]));
/** Charts whose printed limits stand on a rounded centre. */
const npOfRounded = (given: SpcCase): AttributeChart => {
  const rate = rounded(pChart(items(given)).rate, 4);
  return { rate, points: ratePoints('items', items(given), rate) };
};
const cOfRounded = (given: SpcCase): AttributeChart => {
  const rate = rounded(c(given).rate, 2);
  return { rate, points: ratePoints('units', inputsOf(given, 'counts').map((count) => ({ count, of: 1 })), rate) };
};
const uOfRounded = (given: SpcCase): AttributeChart => {
  const rate = rounded(u(given).rate, 2);
  return { rate, points: ratePoints('units', units(given), rate) };
};
/** p′ with the d2 of the print, 1.128. */
const adjustedAsPrinted = (given: SpcCase): AttributeChart & { sigmaZ: number } => {
  const { rate, sigmaZ } = adjustedPChart(items(given));
  const printed = sigmaZ * (2 / Math.sqrt(Math.PI)) / 1.128;
  return { rate, sigmaZ: printed, points: ratePoints('items', items(given), rate, printed) };
};

const rate = ({ rate: found }: AttributeChart): number => found;
const upper = ({ points }: AttributeChart): number => points[0]!.upper;
const lower = ({ points }: AttributeChart): number => points[0]!.lower;
const uppers = ({ points }: AttributeChart): number[] => points.map((point) => point.upper);
const lowers = ({ points }: AttributeChart): number[] => points.map((point) => point.lower);
const countOf = (of: readonly Counted[]): number => of.reduce((sum, { count }) => sum + count, 0);

const CHECKS: SpcChecks = {
  'c-nist-wafers': { center: number(c, rate), ucl: number(c, upper), lcl: number(c, lower), points_beyond_limits: beyond(c) },
  'p-nist-wafers': {
    center: number(p, rate), ucl: number(p, upper), lcl: number(p, lower), points_beyond_limits: beyond(p),
    'revised center without 15 and 23': number(withoutTwo, rate), 'revised ucl': number(withoutTwo, upper), 'revised lcl': number(withoutTwo, lower),
  },
  'np-orange-juice': {
    center: number(npOfRounded, (chart) => 50 * chart.rate), ucl: number(npOfRounded, (chart) => 50 * upper(chart)),
    lcl: number(npOfRounded, (chart) => 50 * lower(chart)), points_beyond_limits: beyond(np),
    'center unrounded': number(np, ({ points }) => points[0]!.centre), 'ucl unrounded': number(np, upper), 'lcl unrounded': number(np, lower),
  },
  'c-circuit-boards': {
    total: (given, expected) => { expectNumber(rate(c(given)) * inputsOf(given, 'counts').length, expected); },
    center: number(c, rate), ucl: number(cOfRounded, upper), lcl: number(cOfRounded, lower), points_beyond_limits: beyond(c),
    'revised center': number(boardsWithoutTwo, rate), 'revised ucl': number(boardsWithoutTwo, upper), 'revised lcl': number(boardsWithoutTwo, lower),
    'ucl unrounded': number(c, upper), 'lcl unrounded': number(c, lower),
  },
  'u-dyed-cloth': {
    center: number(u, rate), ucl: list(uOfRounded, uppers), lcl: list(uOfRounded, lowers), points_beyond_limits: beyond(u),
    'ucl unrounded': list(u, uppers), 'lcl unrounded': list(u, lowers),
    total_units: (given, expected) => { expectNumber(countOf(units(given)) / rate(u(given)), expected); },
    total_defects: (given, expected) => { expectNumber(rate(u(given)) * units(given).reduce((sum, { of }) => sum + of, 0), expected); },
  },
  'p-prime-motors': {
    center: number(p, rate), 'p chart ucl': list(p, uppers), 'p chart lcl, not below 0': list(p, lowers), 'points beyond p chart limits': beyond(p),
    sigma_z: number(adjustedAsPrinted, ({ sigmaZ }) => sigmaZ),
    "p' ucl": list(adjustedAsPrinted, uppers), "p' lcl, not below 0": list(adjustedAsPrinted, lowers),
    "points beyond p' limits": beyond((given) => adjustedPChart(items(given))),
  },
  'u-personal-computers': {
    total: (given, expected) => { expectNumber(rate(u(given)) * 100, expected); },
    center: number(u, rate), ucl: number(u, upper), lcl: number(u, lower), points_beyond_limits: beyond(u),
  },
  'c-surface-defects': { center: number(c, rate), ucl: number(c, upper), 'lcl, not below 0': number(c, lower), points_beyond_limits: beyond(c) },
};

const LEFT: SpcLeft = {};

describe('charts of counts, against worked examples', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });

  test('np and p say the same of each point', () => {
    const given = CASES.find(({ id }) => id === 'p-prime-motors')!;
    standardised(np(given).points).forEach((z, index) => { expect(z).toBeCloseTo(standardised(p(given).points)[index]!, 10); });
    expect(pointsBeyond(np(given).points)).toEqual(pointsBeyond(p(given).points));
  });
});
