import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { columnBeyond, columnSignals, meanDeviationCharts, pointsBeyond, RUN_RULES, type RunRule, runSignals, subgroupColumns } from '#libs/spc';
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
    expect(columnBeyond(columns.deviations, columns.deviationLimits)).toEqual(pointsBeyond(charts.spreads));
    expect(columnBeyond(columns.means, columns.meanLimits)).toEqual(pointsBeyond(charts.means));
  });

  test('columns of other charts are written over, and nothing is left of those', () => {
    const [one, other] = [Float64Array.of(1, 2, 4, 8, 9, 7), Float64Array.of(3, 9, 2, 6, 5, 5)];
    const room = subgroupColumns(one, 2);
    const again = subgroupColumns(other, 2, room);
    expect(again).toEqual(subgroupColumns(other, 2));
    expect(again.means).toBe(room.means);
    expect(() => subgroupColumns(other, 3, room)).toThrow(new RangeError('no room for 2 subgroups: 3 and 3'));
  });

  test('on a limit is not beyond it', () => {
    expect(columnBeyond(Float64Array.of(2, 1.9, 2.5, 3, 3.1), { lower: 2, upper: 3 })).toEqual([2, 5]);
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

  /** The smallest steps to either side of a line lie within what a quotient rounds away. */
  const places = fc.tuple(eighths, fc.constantFrom(0, 0, 0, -1, 1));

  // About the last centre a quotient by the standard error tells no zone at all.
  test.each([10, 0, -1e7, 2 ** 40])('says what the rules say, on, off and next to the lines about %d', (centre) => {
    const least = 2 ** -52 * Math.max(Math.abs(centre), 8);
    fc.assert(fc.property(fc.array(places, { maxLength: 120 }), (steps) => {
      const values = Float64Array.from(steps, ([step, aside]) => centre + step / 4 + aside * least);
      const expected = runSignals([...values].map((value) => ({ value, centre, standardError: 2 })), RULES);
      for (const { rule, points } of columnSignals(values, centre, 2, RULES)) {
        expect(points).toEqual(expected.filter((one) => one.rule === rule).map(({ point }) => point));
      }
    }), { numRuns: 200 });
  });

  test('a rule asked twice answers once, steps alone need no zones, and no rules no answer', () => {
    const values = Float64Array.from({ length: 8 }, (_, index) => index - 3.25);
    expect(columnSignals(values, 0, 1, ['oneBeyond3Sigma', 'oneBeyond3Sigma'])).toEqual([{ rule: 'oneBeyond3Sigma', points: [1, 8] }]);
    expect(columnSignals(values, 0, 1, ['sevenSteadily'])).toEqual([{ rule: 'sevenSteadily', points: [7, 8] }]);
    expect(columnSignals(values, 0, 1, [])).toEqual([]);
  });
});
