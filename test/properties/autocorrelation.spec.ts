import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { autocorrelation, autoregression, batchMeans, effectiveCount, longTermLimits, naiveChart, summaryOf } from '#libs/spc';
import { seedFromEnvironment } from '../setup/seed.js';
import { Draws } from './line-draws.reference.js';

const COUNT = 100_000;
const PHIS = [0, 0.3, 0.5, 0.7, 0.9];
/** P(|z| > 3) of the standard normal distribution. */
const BEYOND_3 = 0.0026997960632602;

/** Stable processes of standard deviation 1, each with its own fixed seed. */
const series = new Map(PHIS.map((phi, index) => [phi, autoregressive(phi, COUNT, 70 + index)]));

describe.each(PHIS)('a stable process with the autocorrelation %d', (phi) => {
  const values = series.get(phi)!;

  test('a chart by moving ranges cries wolf as often as is told', () => {
    const sigma = movingRangeSigma(values);
    const { mean } = summaryOf(values);
    expectShare(shareOutside(values, mean, 3 * sigma), naiveChart(phi).outsideShare, phi);
    expect(Math.abs(sigma - naiveChart(phi).spreadRatio)).toBeLessThan(0.01);
  });

  test('limits from the long-term spread let by what three standard deviations do', () => {
    const { centre, upper } = longTermLimits(values);
    expectShare(shareOutside(values, centre, upper - centre), BEYOND_3, phi);
  });

  test('residuals are independent again, and a chart of them by moving ranges is right', () => {
    const { residuals, phi: found } = autoregression(values);
    expect(Math.abs(found - phi)).toBeLessThan(4 * Math.sqrt((1 - phi * phi) / COUNT));
    const { r, independentWithin } = autocorrelation(residuals, 1, 0.9999);
    expect(Math.abs(r)).toBeLessThan(independentWithin);
    expectShare(shareOutside(residuals, 0, 3 * movingRangeSigma(residuals)), BEYOND_3, 0);
  });

  test('means of batches scatter as the number of independent values in them says', () => {
    const { means } = batchMeans(values, 50);
    const variance = summaryOf(means).standardDeviation! ** 2;
    // A variance of m normal values has the relative standard deviation √(2/m); neighbouring batches are nearly independent.
    expect(Math.abs(variance * effectiveCount(50, phi) - 1)).toBeLessThan(4 * Math.sqrt(2 / means.length) * 1.2);
  });

  test('the interval of the coefficient holds the true one about 95 times of 100', () => {
    const parts = Array.from({ length: 200 }, (_, index) => values.slice(index * 500, (index + 1) * 500));
    const held = parts.filter((part) => {
      const { interval } = autocorrelation(part, 1);
      return interval.from <= phi && phi <= interval.to;
    }).length;
    expect(held).toBeGreaterThanOrEqual(200 * 0.95 - 4 * Math.sqrt(200 * 0.95 * 0.05));
    expect(held).toBeLessThanOrEqual(200 * 0.95 + 4 * Math.sqrt(200 * 0.95 * 0.05));
  });
});

test('the coefficient moves with neither zero point nor scale, lies within −1 and 1, and reads the same backwards', () => {
  const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 3, maxLength: 60 });
  fc.assert(fc.property(values, fc.integer({ min: 1, max: 9 }), fc.integer({ min: -1e6, max: 1e6 }), (given, lag, zero) => {
    fc.pre(lag < given.length && new Set(given).size > 1);
    const { r } = autocorrelation(given, lag);
    expect(Math.abs(r)).toBeLessThanOrEqual(1);
    expect(autocorrelation([...given].reverse(), lag).r).toBeCloseTo(r, 11);
    expect(autocorrelation(given.map((value) => 4 * value + zero), lag).r).toBeCloseTo(r, 9);
  }), { ...seedFromEnvironment(), numRuns: 200 });
});

test('an autoregression is found for any values that differ and do not alternate between two, of which none is', () => {
  const values = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 40 });
  fc.assert(fc.property(values, (given) => {
    fc.pre(new Set(given).size > 1);
    if (given.every((value, index) => index < 2 || value === given[index - 2])) {
      expect(() => autoregression(given)).toThrow(RangeError);
      return;
    }
    const { phi, residualVariance, phiStandardError } = autoregression(given);
    expect(Math.abs(phi)).toBeLessThan(1);
    expect(residualVariance).toBeGreaterThan(0);
    expect(phiStandardError).toBeGreaterThan(0);
  }), { ...seedFromEnvironment(), numRuns: 300 });
});

function autoregressive(phi: number, count: number, seed: number): number[] {
  const draws = new Draws(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - draws.fraction())) * Math.cos(2 * Math.PI * draws.fraction());
  const scale = Math.sqrt(1 - phi * phi);
  let value = normal();
  return Array.from({ length: count }, () => {
    const now = value;
    value = phi * value + scale * normal();
    return now;
  });
}

/** The mean moving range over 2/√π, the mean range of two. */
function movingRangeSigma(values: readonly number[]): number {
  const ranges = values.slice(1).map((value, index) => Math.abs(value - values[index]!));
  return (summaryOf(ranges).mean * Math.sqrt(Math.PI)) / 2;
}

const shareOutside = (values: readonly number[], centre: number, half: number): number =>
  values.filter((value) => Math.abs(value - centre) > half).length / values.length;

/** Within four standard errors of a share, of as many values as are independent at most. */
function expectShare(found: number, share: number, phi: number): void {
  expect(Math.abs(found - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / effectiveCount(COUNT, phi)));
}
