import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import {
  andersonDarling, bestBoxCox, boxCox, capabilityIndices, percentileCapability, referencePercentiles, summaryOf, targetIndices, transformedPercentiles,
} from '#libs/spc';
import { seedFromEnvironment } from '../setup/seed.js';
import { Draws } from './line-draws.reference.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 300 };
const samples = fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 8, maxLength: 40 }).filter((values) => new Set(values).size > 1);
const scales = fc.constantFrom(0.001, 0.5, 3, 1000);

describe('capability', () => {
  test('moves with neither zero point nor scale, and a mirrored process has its sides exchanged', () => {
    fc.assert(fc.property(samples, scales, fc.integer({ min: -1000, max: 1000 }), (values, scale, zero) => {
      const one = indices(values, -600, 700);
      const other = indices(values.map((value) => scale * value + zero), -600 * scale + zero, 700 * scale + zero);
      const mirrored = indices(values.map((value) => -value), -700, 600);
      expectRatio(other.cp!.value, one.cp!.value);
      expect(other.cpk.value).toBeCloseTo(one.cpk.value, 7);
      expect(mirrored.cpkLower!.value).toBeCloseTo(one.cpkUpper!.value, 10);
      expect(mirrored.cpk.value).toBeCloseTo(one.cpk.value, 10);
    }), PARAMETERS);
  });

  test('Cpk is at most Cp, Cpm at most Cp, and each lies within its interval', () => {
    fc.assert(fc.property(samples, fc.integer({ min: -600, max: 700 }), (values, target) => {
      const { cp, cpk } = indices(values, -600, 700);
      const { cpm, cpmk } = targetIndices(spreadOf(values), { lower: -600, upper: 700 }, target);
      expect(cpk.value).toBeLessThanOrEqual(cp!.value * (1 + 1e-12));
      expect(cpm.value).toBeLessThanOrEqual(cp!.value * (1 + 1e-12));
      expect(cpmk).toBeLessThanOrEqual(cpm.value * (1 + 1e-12));
      for (const { value, interval } of [cp!, cpk, cpm]) {
        expect(interval.from).toBeLessThan(value);
        expect(interval.to).toBeGreaterThan(value);
      }
    }), PARAMETERS);
  });

  test('the test of normality and the best power do not depend on unit and order', () => {
    fc.assert(fc.property(samples, scales, (values, scale) => {
      expect(andersonDarling(values.map((value) => 7 - scale * value).reverse()).statistic).toBeCloseTo(andersonDarling(values).statistic, 7);
    }), PARAMETERS);
  });
});

describe('simulated normal samples with a fixed seed', () => {
  const [rounds, n] = [4000, 30];
  const draws = new Draws(2024);
  const drawn = Array.from({ length: rounds }, () => Array.from({ length: n }, () => normalQuantile(Math.max(draws.fraction(), 1e-10), 0, 1)));
  const bound = (share: number): number => 4 * Math.sqrt((share * (1 - share)) / rounds);

  test('the interval of Cp holds the true one as often as it says', () => {
    const share = shareOf(drawn, (values) => holds(indices(values, -4, 4).cp!.interval, 4 / 3));
    expect(Math.abs(share - 0.95)).toBeLessThan(bound(0.95));
  });

  test('those of Cpk and Cpm, which are approximate, do so within two of a hundred', () => {
    const oneSided = shareOf(drawn, (values) => holds(capabilityIndices(spreadOf(values), { lower: -4, upper: null }).cpk.interval, 4 / 3));
    expect(Math.abs(oneSided - 0.95)).toBeLessThan(0.02);
    const aboutTarget = shareOf(drawn, (values) =>
      holds(targetIndices(spreadOf(values), { lower: -4, upper: 4 }, 0.5).cpm.interval, 8 / (6 * Math.hypot(1, 0.5))));
    expect(Math.abs(aboutTarget - 0.95)).toBeLessThan(0.02);
  });

  test('normality is refused at 5 % and at 1 % about that often, and nearly always where values are lognormal', () => {
    const refused = (samplesDrawn: readonly (readonly number[])[], level: number): number => shareOf(samplesDrawn, (values) => andersonDarling(values).p < level);
    expect(Math.abs(refused(drawn, 0.05) - 0.05)).toBeLessThan(bound(0.05) + 0.002);
    expect(Math.abs(refused(drawn, 0.01) - 0.01)).toBeLessThan(bound(0.01) + 0.001);
    expect(refused(drawn.slice(0, 500).map((values) => values.map(Math.exp)), 0.05)).toBeGreaterThan(0.9);
  });

  test('the interval of the power holds 0 for lognormal values about 95 times of 100', () => {
    const share = shareOf(drawn.slice(0, 500), (values) => {
      const { from, to } = bestBoxCox(values.map((value) => Math.exp(value / 2))).interval;
      return (from ?? -Infinity) <= 0 && 0 <= (to ?? Infinity);
    });
    expect(Math.abs(share - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / 500));
  });

  test('lognormal values: percentiles and the way through the power agree, and mean and spread do not', () => {
    const values = drawn.slice(0, 1000).flat().map((value) => Math.exp(value / 2));
    const limits = { lower: null, upper: Math.exp(2) };
    const { lambda } = bestBoxCox(values);
    const { mean, standardDeviation } = summaryOf(values.map((value) => boxCox(value, lambda)));
    const through = percentileCapability(transformedPercentiles(lambda, mean, standardDeviation!)!, limits);
    const direct = percentileCapability(referencePercentiles(values)!, limits);
    // Of the distribution itself: (e² − 1)/(e^1.5 − 1).
    const exact = (Math.exp(2) - 1) / (Math.exp(1.5) - 1);
    expect(Math.abs(through.ppk / exact - 1)).toBeLessThan(0.03);
    expect(Math.abs(direct.ppk / exact - 1)).toBeLessThan(0.08);
    expect(capabilityIndices(spreadOf(values), limits).cpk.value).toBeGreaterThan(1.3 * exact);
  });
});

function spreadOf(values: readonly number[]): { n: number; mean: number; standardDeviation: number; degreesOfFreedom: number } {
  const { n, mean, standardDeviation } = summaryOf(values);
  return { n, mean, standardDeviation: standardDeviation!, degreesOfFreedom: n - 1 };
}

const indices = (values: readonly number[], lower: number, upper: number): ReturnType<typeof capabilityIndices> =>
  capabilityIndices(spreadOf(values), { lower, upper });
const holds = ({ from, to }: { from: number; to: number }, value: number): boolean => from <= value && value <= to;
const shareOf = (all: readonly (readonly number[])[], is: (values: readonly number[]) => boolean): number => all.filter(is).length / all.length;

function expectRatio(found: number, exact: number): void {
  expect(Math.abs(found / exact - 1)).toBeLessThan(1e-9);
}
