import { describe, expect, test } from '@jest/globals';
import { capabilityIndices, overallCapability, ppkInterval, summaryOf } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';
import { capabilityStudy } from './capability-study.js';
import { correlatedValues, row } from './charting.factory.js';

const LIMITS = { lower: 4.85, upper: 5.15, target: 5 };
const normal = normalNumbers(21);

describe('a study of readings', () => {
  test('of independent normal ones has the plain indices, by all and within subgroups', () => {
    const subgroups = Array.from({ length: 30 }, () => Array.from({ length: 4 }, () => 5.01 + 0.03 * normal()));
    const study = capabilityStudy(row(subgroups), LIMITS);
    const { n, mean, standardDeviation } = summaryOf(subgroups.flat());
    expect(study).toMatchObject({ readings: 120, mean, standardDeviation, byPercentiles: null });
    expect(study.overall.ppk).toBe(overallCapability({ n, mean, standardDeviation }, LIMITS).ppk);
    const pooled = Math.sqrt(subgroups.reduce((sum, one) => sum + 3 * (summaryOf(one).standardDeviation ?? NaN) ** 2, 0) / 90);
    expect(study.within?.cpk.value).toBeCloseTo(capabilityIndices({ n, mean, standardDeviation: pooled, degreesOfFreedom: 90 }, LIMITS).cpk.value, 12);
    expect(study.aboutTarget?.cpm.value).toBeCloseTo(0.3 / (6 * Math.hypot(standardDeviation ?? NaN, mean - 5)), 12);
    expect(study.normality?.p).toBeGreaterThan(0.05);
  });

  test('of correlated ones has the interval that fewer readings leave', () => {
    const study = capabilityStudy(row(correlatedValues(normalNumbers(4), 0.8, 900).map((value) => 5 + 0.02 * value)), LIMITS);
    // 900 (1 − 0.8)/(1 + 0.8) = 100.
    expect(study.independentReadings).toBeGreaterThan(70);
    expect(study.independentReadings).toBeLessThan(140);
    expect(study.overall.ppkInterval).toEqual(ppkInterval(study.overall.ppk, Math.floor(study.independentReadings)));
    expect(study.within).toBeNull();
  });

  test('of skew ones goes by a power that makes them normal, and by themselves where there are 740', () => {
    const skew = (count: number): number[] => Array.from({ length: count }, () => Math.exp(0.6 * normal()));
    const limits = { lower: null, upper: 10, target: null };
    const few = capabilityStudy(row(skew(200)), limits);
    // ln is the power 0: high = exp(3 × 0.6) = 6.05, median 1, (10 − 1)/(6.05 − 1) = 1.78.
    expect(few.byPercentiles?.method).toContain('to the power of');
    expect(few.byPercentiles?.ppk).toBeGreaterThan(1.1);
    expect(few.byPercentiles?.ppk).toBeLessThan(2.6);
    expect(few.aboutTarget).toBeNull();
    expect(capabilityStudy(row(skew(2_000)), limits).byPercentiles?.method).toBe('the readings themselves');
  });

  test('does not exist without spread or limits', () => {
    expect(() => capabilityStudy(row([5, 5, 5]), LIMITS)).toThrow('standard deviation');
    expect(() => capabilityStudy(row([5, 5.1]), { lower: null, upper: null, target: null })).toThrow('no limit');
  });
});
