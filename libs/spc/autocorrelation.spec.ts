import { describe, expect, test } from '@jest/globals';
import { autocorrelation, batchMeans, effectiveCount, longTermLimits, naiveChart } from '#libs/spc';

describe('autocorrelation', () => {
  test('equals the definition', () => {
    // Differences from the mean: -2, -1, 0, 1, 2; at lag 1 their products sum to 2 + 0 + 0 + 2, at lag 3 to -2 - 2.
    expect(autocorrelation([1, 2, 3, 4, 5], 1).r).toBeCloseTo(0.4, 14);
    expect(autocorrelation([1, 2, 3, 4, 5], 3).r).toBeCloseTo(-0.4, 14);
  });

  test('the bound for independent values is 1.96/√n, and wider with more confidence', () => {
    const values = Array.from({ length: 100 }, (_, index) => index % 7);
    expect(autocorrelation(values, 2).independentWithin).toBeCloseTo(0.1959963984540054, 13);
    expect(autocorrelation(values, 2, 0.99).independentWithin).toBeCloseTo(0.2575829303548901, 13);
  });

  test('the interval at lag 1 is r ± 1.96 √((1 − r²)/n), and stays within −1 and 1', () => {
    const values = Array.from({ length: 50 }, (_, index) => Math.sin(index / 2));
    const { r, interval } = autocorrelation(values, 1);
    expect(interval.from).toBeCloseTo(r - 1.959963984540054 * Math.sqrt((1 - r * r) / 50), 13);
    const rising = autocorrelation([1, 2, 3, 4], 1);
    expect([rising.interval.from >= -1, rising.interval.to <= 1]).toEqual([true, true]);
    expect(autocorrelation([0, 1, 0, 1], 1).interval.from).toBe(-1);
  });

  test('refuses what has none', () => {
    expect(() => autocorrelation([2, 2, 2], 1)).toThrow(new RangeError('all values are equal: an autocorrelation does not exist'));
    expect(() => autocorrelation([1, 2, 3], 3)).toThrow(new RangeError('the lag is not within 1 and 2: 3'));
    expect(() => autocorrelation([1, 2, 3], 1.5)).toThrow(RangeError);
    expect(() => autocorrelation([], 1)).toThrow(RangeError);
    expect(() => autocorrelation([1, 2, 3], 1, 1)).toThrow(new RangeError('the confidence is not between 0 and 1: 1'));
  });
});

describe('effectiveCount', () => {
  test('equals the sum that it stands for', () => {
    for (const phi of [-0.6, 0, 0.3, 0.9, 0.99]) {
      let sum = 0;
      for (let k = 1; k < 40; k++) sum += (1 - k / 40) * phi ** k;
      expect(effectiveCount(40, phi)).toBeCloseTo(40 / (1 + 2 * sum), 10);
    }
  });

  test('one value is one', () => {
    expect(effectiveCount(1, 0.5)).toBeCloseTo(1, 14);
  });

  test('refuses a process that wanders, and no number of values', () => {
    expect(() => effectiveCount(10, 1)).toThrow(new RangeError('the autocorrelation is not between -1 and 1: 1'));
    expect(() => effectiveCount(0, 0.5)).toThrow(new RangeError('not a number of values: 0'));
    expect(() => naiveChart(-1)).toThrow(RangeError);
  });
});

describe('batchMeans and longTermLimits', () => {
  test('means of whole batches; what fills none is told', () => {
    expect(batchMeans([1, 3, 5, 7, 100], 2)).toEqual({ size: 2, means: [2, 6], leftOver: 1 });
  });

  test('limits lie three standard deviations of all values to either side', () => {
    const { centre, lower, upper } = longTermLimits([1, 2, 3, 4, 5]);
    expect(centre).toBe(3);
    expect(upper).toBeCloseTo(3 + 3 * Math.sqrt(2.5), 14);
    expect(lower).toBeCloseTo(3 - 3 * Math.sqrt(2.5), 14);
  });

  test('refuse what makes no batch and no spread', () => {
    expect(() => batchMeans([1, 2], 3)).toThrow(new RangeError('2 values fill no batch of 3'));
    expect(() => batchMeans([1, 2], 0)).toThrow(RangeError);
    expect(() => longTermLimits([1])).toThrow(new RangeError('a single value has no spread'));
    expect(() => longTermLimits([1, 2], 0)).toThrow(RangeError);
  });
});
