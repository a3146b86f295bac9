import { describe, expect, test } from '@jest/globals';
import { contradictionOf, stringFindings, type StringFigures } from './casing-string.rules.js';

const usual: StringFigures = {
  outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', diameterRatio: '1.16', diameterRatioU: '0.01',
};

describe('figures that cannot be together', () => {
  test('a usual string has none, with or without a diameter ratio', () => {
    expect(contradictionOf(usual)).toBeNull();
    expect(contradictionOf({ ...usual, diameterRatio: null, diameterRatioU: null })).toBeNull();
    expect(contradictionOf({ ...usual, diameterRatioU: null })).toBeNull();
  });

  test('a wall of half the diameter leaves no pipe', () => {
    const problem = { field: 'wallThicknessMm', limit: 'below half the outside diameter of 20 mm' };
    expect(contradictionOf({ ...usual, outsideDiameterMm: '20', wallThicknessMm: '10.0' })).toEqual({ ...problem, value: '10.0' });
    expect(contradictionOf({ ...usual, outsideDiameterMm: '20', wallThicknessMm: '9.99' })).toBeNull();
  });

  test('an uncertainty needs its ratio', () => {
    expect(contradictionOf({ ...usual, diameterRatio: null })).toEqual({
      field: 'diameterRatioU', value: '0.01', limit: 'absent where diameterRatio is absent',
    });
  });
});

describe('ratios worth a question', () => {
  test.each(['0.85', '1', '1.15'])('a length ratio of %s is usual', (lengthRatio) => {
    expect(stringFindings({ ...usual, lengthRatio })).toEqual([]);
  });

  test.each(['0.8499', '1.1501'])('a length ratio of %s is asked about', (lengthRatio) => {
    expect(stringFindings({ ...usual, lengthRatio })).toEqual([
      { tier: 'implausible', field: 'lengthRatio', value: lengthRatio, limit: 'usually at least 0.85 m per m, at most 1.15 m per m' },
    ]);
  });

  test.each(['1.02', '1.40'])('a diameter ratio of %s is usual', (diameterRatio) => {
    expect(stringFindings({ ...usual, diameterRatio })).toEqual([]);
  });

  test.each(['1.0199', '1.401'])('a diameter ratio of %s is asked about', (diameterRatio) => {
    expect(stringFindings({ ...usual, diameterRatio })).toEqual([
      { tier: 'implausible', field: 'diameterRatio', value: diameterRatio, limit: 'usually at least 1.02 mm per mm, at most 1.4 mm per mm' },
    ]);
  });

  test('a diameter ratio that is not given raises no question', () => {
    expect(stringFindings({ ...usual, diameterRatio: null })).toEqual([]);
  });
});
