import { describe, expect, test } from '@jest/globals';
import { controlChartFactors, type ControlChartFactors } from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputsOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected, type SpcLeft } from './spc-cases.js';

const CASES = spcCases('01-control-chart-constants.json');

type Symbol = Exclude<keyof ControlChartFactors, 'n'>;

const factor = (symbol: Symbol) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumbers(inputsOf(given, 'n').map((n) => controlChartFactors(n)[symbol]), expected, 1e-11);
};
const factors = (...symbols: readonly Symbol[]): SpcChecks[string] => Object.fromEntries(symbols.map((symbol) => [symbol, factor(symbol)]));

const CHECKS: SpcChecks = {
  'const-printed-n2-10': factors('A2', 'A3', 'c4', 'B3', 'B4', 'B5', 'B6', 'd2', 'd3', 'D3', 'D4'),
  'const-printed-A-D1-D2-n2-10': factors('A', 'D1', 'D2'),
  'const-high-precision': factors('c4', 'd2', 'd3'),
  'const-E2': factors('E2'),
  'const-closed-form': {
    d2: factor('d2'),
    'd3 for n=2, sqrt(2-4/pi)': (_given, expected) => { expectNumber(controlChartFactors(2).d3, expected); },
    'c4 for n=2, sqrt(2/pi)': (_given, expected) => { expectNumber(controlChartFactors(2).c4, expected); },
    'c4 for n=3, sqrt(pi)/2': (_given, expected) => { expectNumber(controlChartFactors(3).c4, expected); },
  },
};

const LEFT: SpcLeft = { 'gauge studies': { 'const-d2star': ['K1', 'K2', 'K3'] } };

describe('factors of control charts, against printed tables', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, LEFT)).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});
