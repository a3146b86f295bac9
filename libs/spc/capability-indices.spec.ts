import { describe, expect, test } from '@jest/globals';
import {
  capabilityIndices, cpInterval, overallCapability, percentileCapability, referencePercentiles, targetIndices, transformedPercentiles,
} from '#libs/spc';

const spread = { n: 30, mean: 5.02, standardDeviation: 0.04, degreesOfFreedom: 29 };
const limits = { lower: 4.85, upper: 5.15 };

describe('capabilityIndices', () => {
  test('by the overall standard deviation they are Pp and Ppk', () => {
    const { pp, ppk, ppkInterval } = overallCapability(spread, limits);
    const { cp, cpk, cpkUpper } = capabilityIndices(spread, limits);
    expect(cp!.value).toBe(pp);
    expect(cpk).toEqual(cpkUpper);
    expect(cpk.value).toBe(ppk);
    expect(cpk.interval.from).toBeCloseTo(ppkInterval.from, 13);
    expect(cpk.interval.to).toBeCloseTo(ppkInterval.to, 13);
  });

  test('one limit: no Cp, and nothing on the other side', () => {
    const { cp, cpkLower, cpkUpper, cpk } = capabilityIndices(spread, { lower: 4.85, upper: null });
    expect([cp, cpkUpper]).toEqual([null, null]);
    expect(cpk).toEqual(cpkLower);
    expect(cpk.value).toBeCloseTo(0.17 / 0.12, 12);
  });

  test('fewer degrees of freedom and more confidence widen the intervals', () => {
    const [exact, loose] = [capabilityIndices(spread, limits), capabilityIndices({ ...spread, degreesOfFreedom: 12.3 }, limits)];
    expect(loose.cp!.interval.from).toBeLessThan(exact.cp!.interval.from);
    expect(loose.cpk.interval.to).toBeGreaterThan(exact.cpk.interval.to);
    expect(capabilityIndices(spread, limits, 0.99).cpk.interval.from).toBeLessThan(exact.cpk.interval.from);
  });

  test('a mean outside the limits gives a Cpk below 0, and Cpm stays above', () => {
    expect(capabilityIndices({ ...spread, mean: 5.2 }, limits).cpk.value).toBeLessThan(0);
    expect(targetIndices({ ...spread, mean: 5.2 }, limits, 5).cpm.value).toBeCloseTo(0.3 / (6 * Math.hypot(0.04, 0.2)), 12);
  });

  test('on target Cpm is Cp', () => {
    const { cpm, cpmk } = targetIndices({ ...spread, mean: 5 }, limits, 5);
    expect(cpm.value).toBeCloseTo(0.3 / 0.24, 12);
    expect(cpm.interval.from).toBeCloseTo(cpInterval(0.3 / 0.24, 30).from, 12);
    expect(cpmk).toBeCloseTo(cpm.value, 12);
  });

  test('refuse what has no index', () => {
    expect(() => capabilityIndices({ ...spread, standardDeviation: 0 }, limits)).toThrow(new RangeError('the standard deviation is not above 0: 0'));
    expect(() => capabilityIndices({ ...spread, degreesOfFreedom: 30 }, limits)).toThrow(new RangeError('not degrees of freedom of 30 values: 30'));
    expect(() => capabilityIndices({ ...spread, n: 1 }, limits)).toThrow(RangeError);
    expect(() => capabilityIndices({ ...spread, mean: NaN }, limits)).toThrow(RangeError);
    expect(() => capabilityIndices(spread, { lower: null, upper: null })).toThrow(RangeError);
    expect(() => capabilityIndices(spread, { lower: 6, upper: 5 })).toThrow(RangeError);
    expect(() => capabilityIndices(spread, limits, 0)).toThrow(RangeError);
    expect(() => targetIndices(spread, limits, 6)).toThrow(new RangeError('the target is not within the limits: 6'));
    expect(() => targetIndices(spread, { lower: null, upper: 6 }, 5)).toThrow(RangeError);
    expect(() => cpInterval(-1, 5)).toThrow(RangeError);
  });
});

describe('capability by percentiles', () => {
  test('of a normal distribution it is that by mean and standard deviation', () => {
    const { pp, ppk } = percentileCapability({ low: 5.02 - 0.12, median: 5.02, high: 5.02 + 0.12 }, limits);
    expect(pp).toBeCloseTo(0.3 / 0.24, 12);
    expect(ppk).toBeCloseTo(0.13 / 0.12, 12);
  });

  test('a skewed one is judged on each side by its own half', () => {
    const { pp, ppkLower, ppkUpper, ppk } = percentileCapability({ low: 0, median: 1, high: 5 }, { lower: null, upper: 9 });
    expect([pp, ppkLower, ppkUpper, ppk]).toEqual([null, null, 2, 2]);
  });

  test('the percentiles of values need 740 of them', () => {
    const values = Array.from({ length: 740 }, (_, index) => index + 1);
    expect(referencePercentiles(values.slice(1))).toBeNull();
    const { low, median, high } = referencePercentiles(values)!;
    expect(low).toBeCloseTo(741 * 0.00134989803163, 9);
    expect(median).toBe(370.5);
    expect(low + high).toBeCloseTo(741, 9);
  });

  test('through a transformation: three standard deviations there, told in the values’ own unit', () => {
    expect(transformedPercentiles(0, 1, 0.5)).toEqual({ low: Math.exp(-0.5), median: Math.E, high: Math.exp(2.5) });
    // With λ = ½ the least value of all, 0, is −2.
    expect(transformedPercentiles(0.5, 1, 1)).toBeNull();
  });

  test('refuse percentiles that do not rise', () => {
    expect(() => percentileCapability({ low: 1, median: 1, high: 2 }, limits)).toThrow(new RangeError('percentiles do not rise: 1, 1, 2'));
    expect(() => percentileCapability({ low: -Infinity, median: 1, high: 2 }, limits)).toThrow(RangeError);
  });
});
