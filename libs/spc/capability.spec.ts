import { describe, expect, test } from '@jest/globals';
import { overallCapability, ppkInterval, summaryOf, type SpecificationLimits } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';

const values = { n: 30, mean: 5.02, standardDeviation: 0.04 };
const limits = { lower: 4.85, upper: 5.15 };

describe('overallCapability', () => {
  test('two sides: the nearer limit decides', () => {
    const { pp, ppkLower, ppkUpper, ppk } = overallCapability(values, limits);
    expect(pp).toBeCloseTo(0.3 / 0.24, 12);
    expect(ppkLower).toBeCloseTo(0.17 / 0.12, 12);
    expect(ppkUpper).toBeCloseTo(0.13 / 0.12, 12);
    expect(ppk).toBe(ppkUpper);
  });

  test('one side: no Pp, and the side there is', () => {
    expect(overallCapability(values, { lower: 4.85, upper: null })).toMatchObject({ pp: null, ppkUpper: null, ppk: (5.02 - 4.85) / 0.12 });
    expect(overallCapability(values, { lower: null, upper: 5.15 })).toMatchObject({ pp: null, ppkLower: null, ppk: (5.15 - 5.02) / 0.12 });
  });

  test('a mean on a limit gives 0, one beyond it less', () => {
    expect(overallCapability({ ...values, mean: 5.15 }, limits).ppk).toBe(0);
    expect(overallCapability({ ...values, mean: 5.19 }, limits).ppk).toBeCloseTo(-1 / 3, 12);
  });

  test('the interval is that of its Ppk and n', () => {
    const { ppk, ppkInterval: interval } = overallCapability(values, limits);
    expect(interval).toEqual(ppkInterval(ppk, 30));
  });

  test('what has no spread, no limits or too few values is refused', () => {
    const refused = (given: typeof values | { n: number; mean: number; standardDeviation: null }, of: SpecificationLimits = limits): (() => unknown) =>
      () => overallCapability(given, of);
    expect(refused({ ...values, standardDeviation: 0 })).toThrow(new RangeError('the standard deviation is not above 0: 0'));
    expect(refused({ ...values, standardDeviation: null })).toThrow(new RangeError('the standard deviation is not above 0: null'));
    expect(refused({ ...values, standardDeviation: NaN })).toThrow(RangeError);
    expect(refused({ ...values, mean: NaN })).toThrow(new RangeError('not a finite mean: NaN'));
    expect(refused({ ...values, n: 1 })).toThrow(new RangeError('n is not a whole number of at least 2: 1'));
    expect(refused(values, { lower: null, upper: null })).toThrow(new RangeError('there is no limit to hold the values against'));
    expect(refused(values, { lower: 5.2, upper: 5.1 })).toThrow(new RangeError('limits are reversed: lower 5.2, upper 5.1'));
    expect(refused(values, { lower: -Infinity, upper: 5.1 })).toThrow(new RangeError('not a finite limit: -Infinity'));
  });
});

describe('ppkInterval', () => {
  test('narrows with the square root of n, about the estimate', () => {
    const [few, many] = [ppkInterval(1, 20), ppkInterval(1, 2000)];
    expect((few.from + few.to) / 2).toBeCloseTo(1, 12);
    expect((few.to - few.from) / (many.to - many.from)).toBeCloseTo(Math.sqrt((1 / 180 + 1 / 38) / (1 / 18_000 + 1 / 3998)), 12);
  });

  test('stands at and below 0', () => {
    expect(ppkInterval(0, 2).to).toBeCloseTo(1.959963984540054 / Math.sqrt(18), 12);
    expect(ppkInterval(-1, 20).from).toBeCloseTo(-ppkInterval(1, 20).to, 12);
  });

  test('needs two values and a number', () => {
    expect(() => ppkInterval(1, 1)).toThrow(RangeError);
    expect(() => ppkInterval(1, 2.5)).toThrow(RangeError);
    expect(() => ppkInterval(NaN, 20)).toThrow(new RangeError('not a finite Ppk: NaN'));
  });

  /** True Ppk 1 against one limit, in samples of a fixed sequence of normal numbers. */
  test.each([20, 50])('holds the true value in about 95 of 100 samples of %p', (n) => {
    const draw = normalNumbers(20_261_125);
    const rounds = 4000;
    let held = 0;
    for (let round = 0; round < rounds; round += 1) {
      const sample = summaryOf(Array.from({ length: n }, draw));
      const { from, to } = overallCapability(sample, { lower: null, upper: 3 }).ppkInterval;
      if (from <= 1 && 1 <= to) held += 1;
    }
    expect(held / rounds).toBeGreaterThan(0.93);
    expect(held / rounds).toBeLessThan(0.97);
  });
});
