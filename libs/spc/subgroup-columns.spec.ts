import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { columnSignals, meanDeviationCharts, RUN_RULES, type RunRule, runSignals, subgroupColumns } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';

const RULES = Object.keys(RUN_RULES) as RunRule[];

describe('subgroupColumns', () => {
  test.each([2, 5, 12])('subgroups of %i: the figures of the charts themselves', (size) => {
    const draw = normalNumbers(size);
    const values = Float64Array.from({ length: 300 * size }, () => 74 + draw() / 100);
    const groups = Array.from({ length: 300 }, (_, index) => [...values.subarray(size * index, size * (index + 1))]);
    const [columns, charts] = [subgroupColumns(values, size), meanDeviationCharts(groups)];
    charts.means.forEach(({ value }, index) => { expect(columns.means[index]).toBeCloseTo(value, 12); });
    charts.spreads.forEach(({ value }, index) => { expect(columns.deviations[index]).toBeCloseTo(value, 12); });
    const close = (found: Readonly<Record<string, number>>, lower: number, upper: number): void => {
      expect(found['lower']).toBeCloseTo(lower, 12);
      expect(found['upper']).toBeCloseTo(upper, 12);
    };
    close(columns.meanLimits, charts.means[0]!.lower, charts.means[0]!.upper);
    close(columns.deviationLimits, charts.spreads[0]!.lower, charts.spreads[0]!.upper);
    expect([columns.grandMean, columns.sigma, columns.meanDeviation].map((one) => one.toFixed(12)))
      .toEqual([charts.grandMean, charts.sigma, charts.meanDeviation].map((one) => one.toFixed(12)));
  });

  test('what cannot be is refused', () => {
    expect(() => subgroupColumns(Float64Array.of(1, 2, 3), 2)).toThrow(new RangeError('3 values do not fill subgroups of 2'));
    expect(() => subgroupColumns(new Float64Array(0), 2)).toThrow(RangeError);
    expect(() => subgroupColumns(Float64Array.of(1, NaN), 2)).toThrow(new RangeError('not all values are finite'));
    expect(() => subgroupColumns(Float64Array.of(1, 1), 2)).toThrow(new RangeError('the values within the subgroups show no spread to take limits from'));
    expect(() => columnSignals(Float64Array.of(1), NaN, 1, RULES)).toThrow(new RangeError('not a finite centre: NaN'));
    expect(() => columnSignals(Float64Array.of(1), 1, 0, RULES)).toThrow(RangeError);
  });
});

describe('columnSignals', () => {
  // Eighths, so that points lie on lines too; and runs of small ones, so that every rule has its chance.
  const eighths = fc.oneof(fc.integer({ min: -28, max: 28 }), fc.integer({ min: -7, max: 7 }), fc.integer({ min: 1, max: 12 }));

  test('says what the rules say, on and off the lines', () => {
    fc.assert(fc.property(fc.array(eighths, { maxLength: 120 }), (steps) => {
      const values = Float64Array.from(steps, (step) => 10 + step / 4);
      const expected = runSignals([...values].map((value) => ({ value, centre: 10, standardError: 2 })), RULES);
      for (const { rule, points } of columnSignals(values, 10, 2, RULES)) {
        expect(points).toEqual(expected.filter((one) => one.rule === rule).map(({ point }) => point));
      }
    }), { numRuns: 300 });
  });
});
