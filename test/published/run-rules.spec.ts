import { describe, expect, test } from '@jest/globals';
import { type RunRule, runSignals, shewhartRunLength, shewhartSignalChance } from '#libs/spc';
import { accountedFor, checked, expectNumber, expectNumbers, held, inputsOf, spcCases, type SpcCase, type SpcChecks, type SpcExpected } from './spc-cases.js';

const CASES = spcCases('06-run-rules.json');

/** The first point at which the rule signals on the sequence that the expected value is named after. */
const first = (rule: RunRule) => ({ inputs }: SpcCase, { name, value }: SpcExpected): void => {
  const sequence = (inputs['sequences'] as number[][])[Number(/sequence (\d+)/.exec(name)![1]) - 1]!;
  const signals = runSignals(sequence.map((one) => ({ value: one, centre: 0, standardError: 1 })), [rule]);
  expect(signals[0]?.point ?? null).toBe(value);
};
const sequences = (count: number, rule: RunRule): SpcChecks[string] => Object.fromEntries(
  Array.from({ length: count }, (_, index) => [`first_signal of sequence ${index + 1} (1-based point, null = none)`, first(rule)]));
const runLengths = (...rules: readonly RunRule[]) => (given: SpcCase, expected: SpcExpected): void => {
  expectNumbers(inputsOf(given, 'shift_in_sigma').map((shift) => shewhartRunLength(['oneBeyond3Sigma', ...rules], shift)), expected, 1e-11);
};
const window = (rule: RunRule, points: number, share = 1) => (_given: SpcCase, expected: SpcExpected): void => {
  expectNumber(share * shewhartSignalChance([rule], points, 0), expected, 1e-11);
};

const CHECKS: SpcChecks = {
  'we-1': sequences(3, 'oneBeyond3Sigma'),
  'we-2': sequences(8, 'twoOfThreeBeyond2Sigma'),
  'we-3': sequences(6, 'fourOfFiveBeyond1Sigma'),
  'we-4': sequences(4, 'eightOnOneSide'),
  'nelson-2': sequences(3, 'nineOnOneSide'),
  'nelson-3': sequences(4, 'sixSteadily'),
  'nelson-4': sequences(4, 'fourteenAlternating'),
  'nelson-7': sequences(2, 'fifteenWithin1Sigma'),
  'nelson-8': sequences(3, 'eightBeyond1Sigma'),
  'arl-champ-woodall-single': {
    'arl C1': runLengths(),
    'arl C12': runLengths('twoOfThreeBeyond2Sigma'),
    'arl C13': runLengths('fourOfFiveBeyond1Sigma'),
    'arl C14': runLengths('eightOnOneSide'),
  },
  'false-alarm-probabilities': {
    'one point beyond 3 sigma': (_given, expected) => { expectNumber(1 / shewhartRunLength(['oneBeyond3Sigma'], 0), expected, 1e-11); },
    // Of the first window that is full; on either side is twice on one.
    'one-sided two of three beyond 2 sigma (exactly 2 or 3)': window('twoOfThreeBeyond2Sigma', 3, 1 / 2),
    'eight in a row on one side, either side': window('eightOnOneSide', 8),
    'nine in a row on one side, either side': window('nineOnOneSide', 9),
    'six in a row steadily up or down': window('sixSteadily', 6),
    'fifteen in a row within 1 sigma': window('fifteenWithin1Sigma', 15),
  },
};

describe('run rules, against sequences and published run lengths', () => {
  test('every value of every case is checked here or belongs to somebody else', () => {
    expect(accountedFor(CHECKS, {})).toEqual(held(CASES));
  });

  test.each(checked(CASES, CHECKS))('%s', (_title, given, expected) => {
    CHECKS[given.id]![expected.name]!(given, expected);
  });
});
