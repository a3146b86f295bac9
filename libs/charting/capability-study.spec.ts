import { describe, expect, test } from '@jest/globals';
import { capabilityIndices, cpInterval, cpkInterval, overallCapability, ppkInterval, summaryOf, targetIndices, type Interval } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';
import { capabilityStudy, type CapabilityStudy } from './capability-study.js';
import { correlatedValues, row } from './charting.factory.js';

const LIMITS = { lower: 4.85, upper: 5.15, target: 5 };
const normal = normalNumbers(21);

describe('a study of readings', () => {
  test('of independent normal ones has the plain indices, by all and within subgroups', () => {
    const subgroups = Array.from({ length: 30 }, () => Array.from({ length: 4 }, () => 5.01 + 0.03 * normal()));
    const study = capabilityStudy(row(subgroups), LIMITS);
    const { n, mean, standardDeviation } = summaryOf(subgroups.flat());
    expect(study).toMatchObject({ readings: 120, mean, standardDeviation, byPercentiles: null, normality: { caution: null }, warnings: [] });
    expect(study.overall.ppk).toBe(overallCapability({ n, mean, standardDeviation }, LIMITS).ppk);
    const pooled = Math.sqrt(subgroups.reduce((sum, one) => sum + 3 * (summaryOf(one).standardDeviation ?? NaN) ** 2, 0) / 90);
    const within = capabilityIndices({ n, mean, standardDeviation: pooled, degreesOfFreedom: 90 }, LIMITS);
    expect(study.within?.cpk.value).toBeCloseTo(within.cpk.value, 12);
    expect(study.independentReadings).toBe(120);
    for (const end of ['from', 'to'] as const) {
      expect(study.within?.cpk.interval?.[end]).toBeCloseTo(within.cpk.interval[end], 12);
      expect(study.within?.cp?.interval?.[end]).toBeCloseTo(within.cp?.interval[end] ?? NaN, 12);
      expect(study.overall.ppInterval?.[end]).toBeCloseTo(cpInterval(study.overall.pp ?? NaN, 119)[end], 12);
    }
    expect(study.aboutTarget?.cpm.value).toBeCloseTo(0.3 / (6 * Math.hypot(standardDeviation ?? NaN, mean - 5)), 12);
    expect(study.normality?.p).toBeGreaterThan(0.05);
  });

  test('of correlated ones has the intervals that fewer readings leave', () => {
    const values = correlatedValues(normalNumbers(4), 0.8, 900).map((value) => 5.005 + 0.02 * value);
    const study = capabilityStudy(row(values), LIMITS);
    // 900 (1 − 0.8)/(1 + 0.8) = 100.
    expect(study.independentReadings).toBeGreaterThan(70);
    expect(study.independentReadings).toBeLessThan(140);
    const { overall, aboutTarget, mean, standardDeviation } = study;
    const independent = Math.floor(study.independentReadings);
    expect(overall.ppkInterval).toEqual(ppkInterval(overall.ppk, independent));
    expect(overall.ppInterval).toEqual(cpInterval(overall.pp ?? NaN, independent - 1));
    expect(aboutTarget?.cpm.interval).toEqual(targetIndices({ n: independent, mean, standardDeviation, degreesOfFreedom: independent - 1 }, LIMITS, LIMITS.target).cpm.interval);
    expect(study.within).toBeNull();
    expect(capabilityStudy(row(values), { ...LIMITS, lower: null }).overall).toMatchObject({ pp: null, ppInterval: null });
  });

  test('of correlated ones in subgroups has degrees of freedom by the share that is independent', () => {
    const values = correlatedValues(normalNumbers(4), 0.8, 900).map((value) => 5 + 0.02 * value);
    const study = capabilityStudy(row(Array.from({ length: 300 }, (_, index) => values.slice(3 * index, 3 * index + 3))), LIMITS);
    const independent = Math.floor(study.independentReadings);
    const degreesOfFreedom = 600 * (independent / 900);
    expect(study.within?.cp?.interval).toEqual(cpInterval(study.within?.cp?.value ?? NaN, degreesOfFreedom));
    expect(study.within?.cpk.interval).toEqual(cpkInterval(study.within?.cpk.value ?? NaN, { n: independent, degreesOfFreedom }));
  });

  test('has no interval where fewer than 2 readings are independent', () => {
    const { independentReadings, overall, within, aboutTarget } = capabilityStudy(row(Array.from({ length: 30 }, (_, index) => [4.9 + 0.006 * index, 4.901 + 0.006 * index])), LIMITS);
    expect(independentReadings).toBeLessThan(2);
    expect([overall.ppInterval, overall.ppkInterval, within?.cp?.interval, within?.cpk.interval, aboutTarget?.cpm.interval]).toEqual([null, null, null, null, null]);
    expect([overall.pp, within?.cp?.value, aboutTarget?.cpm.value].every(Number.isFinite)).toBe(true);
  });

  /** True Pp 1 and Cpm 1/√1.0625, of 400 values of an autocorrelation of 0.6: as 100 independent ones. */
  test('holds the true values of correlated readings in its intervals about as often as they say', () => {
    const drawn = normalNumbers(33);
    const studies = Array.from({ length: 400 }, () => capabilityStudy(row(correlatedValues(drawn, 0.6, 400)), { lower: -3, upper: 3, target: 0.25 }));
    const share = (interval: (study: CapabilityStudy) => Interval | null | undefined, value: number): number =>
      studies.filter((study) => (interval(study)?.from ?? Infinity) <= value && value <= (interval(study)?.to ?? -Infinity)).length / studies.length;
    expect(share(({ overall }) => overall.ppInterval, 1)).toBeGreaterThan(0.94);
    expect(share(({ aboutTarget }) => aboutTarget?.cpm.interval, 1 / Math.hypot(1, 0.25))).toBeGreaterThan(0.94);
    expect(share(({ overall: { pp } }) => (pp === null ? null : cpInterval(pp, 399)), 1)).toBeLessThan(0.9);
  });

  test('says where Cpk leaves out most of what varies', () => {
    const fours = (means: readonly number[]): CapabilityStudy => capabilityStudy(row(means.map((mean) => [0, 1, 2, 3].map(() => mean + 0.01 * normal()))), LIMITS);
    const text = ({ within, overall }: CapabilityStudy, end: string): string =>
      `Cpk ${within?.cpk.value.toPrecision(3) ?? ''} stands beside Ppk ${overall.ppk.toPrecision(3)}: it leaves out what varies between subgroups, and all that changes over more pipe than one is of.${end}`;
    const varying = fours(Array.from({ length: 40 }, () => 5 + 0.04 * normal()));
    expect((varying.within?.cpk.value ?? NaN) / varying.overall.ppk).toBeGreaterThan(1.5);
    expect(varying.warnings).toEqual([{ code: 'within-only', text: text(varying, ' Ppk with its interval is what the pipe shows.') }]);
    expect(fours(Array.from({ length: 40 }, () => 5 + 0.005 * normal())).warnings).toEqual([]);
    const few = fours(Array.from({ length: 15 }, (_, index) => 5 + 0.04 * (index - 7)));
    expect(few.overall.ppkInterval).toBeNull();
    expect(few.warnings).toEqual([{ code: 'within-only', text: text(few, ' Ppk, for whose interval fewer than 2 readings are independent, is what the pipe shows.') }]);
    const heaps = fours(Array.from({ length: 40 }, (_, index) => (index % 2 === 0 ? 4.9 : 5.1)));
    expect(heaps.warnings).toMatchObject([{ code: 'not-normal' }, { code: 'within-only', text: text(heaps, '') }]);
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
    expect(few.warnings).toEqual([{
      code: 'not-normal',
      text: `A normal distribution does not fit (Anderson and Darling's test, p-value below 0.0001): Pp, Ppk, Cp, Cpk and Cpm with their intervals are by one, and do not hold. Read those by percentiles instead: Ppk ${few.byPercentiles?.ppk.toPrecision(3)}, without an interval.`,
    }]);
    expect(capabilityStudy(row(skew(2_000)), limits).byPercentiles?.method).toBe('the readings themselves');
  });

  test('says of readings that are not normal why there are no percentiles', () => {
    const text = (values: readonly number[]): string => capabilityStudy(row(values), { lower: null, upper: 50, target: null }).warnings.map(({ text: own }) => own).join();
    const heaps = Array.from({ length: 100 }, (_, index) => (index % 2 === 0 ? 5 : 8) + 0.01 * normal());
    const instead = 'Read the least and the greatest reading, and what lies outside, instead.';
    expect(text(heaps)).toContain(`There are none by percentiles: the readings themselves have none below 740, and these are 100; and no power makes these normal. ${instead}`);
    expect(text(heaps.map((value) => value - 6))).toContain('these are 100; a power, which might make them normal, takes readings above 0.');
    expect(text(Array.from({ length: 800 }, (_, index) => (index % 400 === 0 ? 6 : 5)))).toContain('none by percentiles: those of the readings themselves fall together.');
  });

  test('says beside the p-value that it takes readings for independent, where they are not', () => {
    const values = correlatedValues(normalNumbers(4), 0.8, 900).map((value) => 5 + 0.02 * value);
    const caution = expect.stringMatching(/^The p-value takes the readings for independent\. They resemble their neighbours \(lag-1 correlation 0\.\d\d\), which makes it too small\.$/);
    expect(capabilityStudy(row(values), LIMITS).normality).toMatchObject({ caution });
    const skew = capabilityStudy(row(values.map((value) => Math.exp(50 * (value - 5)))), { lower: null, upper: 50, target: null });
    expect(skew.warnings).toMatchObject([{ code: 'not-normal', text: expect.stringMatching(/without an interval\. The p-value takes the readings for independent\./) }]);
  });

  test('does not exist without spread or limits', () => {
    expect(() => capabilityStudy(row([5, 5, 5]), LIMITS)).toThrow('standard deviation');
    expect(() => capabilityStudy(row([5, 5.1]), { lower: null, upper: null, target: null })).toThrow('no limit');
  });
});
