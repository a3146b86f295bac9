import { describe, expect, test } from '@jest/globals';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import {
  cusumDecisionInterval, cusumPoints, cusumRunLength, ewmaPoints, ewmaRunLength, oneSidedCusumRunLength, pointsBeyond, shewhartRunLength,
} from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';

const EWMA = { target: 50, sigma: 2, lambda: 0.2, width: 3 };
const CUSUM = { target: 10, k: 0.5, h: 4 };

describe('ewmaPoints', () => {
  test('the average weighs values by (1 − λ)^age, and its standard deviation is that of the same weights', () => {
    const values = [51, 48, 55, 50.5, 47];
    ewmaPoints(values, EWMA).forEach(({ value, standardError, upper, lower }, index) => {
      const weights = values.slice(0, index + 1).map((_, place) => 0.2 * 0.8 ** (index - place));
      expect(value).toBeCloseTo(50 + weights.reduce((sum, weight, place) => sum + weight * (values[place]! - 50), 0), 12);
      expect(standardError).toBeCloseTo(2 * Math.sqrt(weights.reduce((sum, weight) => sum + weight * weight, 0)), 12);
      expect([upper, lower]).toEqual([50 + 3 * standardError, 50 - 3 * standardError]);
    });
  });

  test('exact limits widen to the final ones; with λ = 1 it is a chart of the values', () => {
    const exact = ewmaPoints(Array.from({ length: 100 }, () => 50), EWMA);
    const final = ewmaPoints([50], EWMA, { limits: 'final' })[0]!;
    expect(exact[0]!.upper).toBeLessThan(exact[1]!.upper);
    expect(exact[99]!.upper).toBeCloseTo(final.upper, 10);
    expect(ewmaPoints([57, 44], { ...EWMA, lambda: 1 })).toEqual([
      expect.objectContaining({ value: 57, standardError: 2, upper: 56 }), expect.objectContaining({ value: 44, standardError: 2, lower: 44 }),
    ]);
    // On the limit is not beyond it.
    expect(pointsBeyond(ewmaPoints([57, 44], { ...EWMA, lambda: 1 }))).toEqual([1]);
  });

  test('where something else begins it starts from the target, with the limits of a first value', () => {
    const [first, , third] = ewmaPoints([52, 60, 52], EWMA, { beginsAnew: [3] });
    expect({ ...third, point: 1 }).toEqual(first);
  });

  test('what cannot be is refused', () => {
    expect(() => ewmaPoints([NaN], EWMA)).toThrow(new RangeError('not a finite value: NaN'));
    expect(() => ewmaPoints([1], { ...EWMA, lambda: 0 })).toThrow(new RangeError('not a weight above 0 and at most 1: 0'));
    expect(() => ewmaPoints([1], { ...EWMA, sigma: 0 })).toThrow(new RangeError('the values show no spread to take limits from'));
    expect(() => ewmaPoints([1], { ...EWMA, width: 0 })).toThrow(new RangeError('not a width of limits: 0'));
    expect(() => ewmaPoints([1], { ...EWMA, target: Infinity })).toThrow(RangeError);
  });
});

describe('cusumPoints', () => {
  test('sums what lies beyond target and reference, and tells since when', () => {
    const points = cusumPoints([10, 9, 12, 12, 12.5, 12], CUSUM);
    expect(points.map(({ high }) => high)).toEqual([0, 0, 1.5, 3, 5, 6.5]);
    expect(points.map(({ low }) => low)).toEqual([0, 0.5, 0, 0, 0, 0]);
    expect(points.map(({ sum }) => sum)).toEqual([0, -1, 1, 3, 5.5, 7.5]);
    expect(points.map(({ signals }) => signals)).toEqual([[], [], [], [], [{ side: 'high', since: 3 }], [{ side: 'high', since: 3 }]]);
  });

  test('mirrored values mirror the sums; exactly h is not above it', () => {
    const values = [9.2, 8, 12, 14.5, 3];
    const mirrored = cusumPoints(values.map((value) => 20 - value), CUSUM);
    cusumPoints(values, CUSUM).forEach(({ high, low }, index) => {
      expect(mirrored[index]!.low).toBeCloseTo(high, 12);
      expect(mirrored[index]!.high).toBeCloseTo(low, 12);
    });
    expect(cusumPoints([14.5], CUSUM)[0]).toMatchObject({ high: 4, signals: [] });
  });

  test('a head start signals sooner where the shift was there from the first, and wears off where there is none', () => {
    const shifted = [11.5, 11.5, 11.5, 11.5, 11.5];
    const first = (headStart: number): number | undefined => cusumPoints(shifted, { ...CUSUM, headStart }).find(({ signals }) => signals.length > 0)?.point;
    expect([first(0), first(2)]).toEqual([5, 3]);
    expect(cusumPoints(shifted, { ...CUSUM, headStart: 2 })[2]!.signals).toEqual([{ side: 'high', since: null }]);
    expect(cusumPoints([10, 10, 10, 10], { ...CUSUM, headStart: 2 }).map(({ high }) => high)).toEqual([1.5, 1, 0.5, 0]);
  });

  test('where something else begins the sums start again', () => {
    expect(cusumPoints([12, 12, 12], CUSUM, [3]).map(({ high, sum }) => [high, sum])).toEqual([[1.5, 2], [3, 4], [1.5, 2]]);
  });

  test('what cannot be is refused', () => {
    expect(() => cusumPoints([Infinity], CUSUM)).toThrow(RangeError);
    expect(() => cusumPoints([1], { ...CUSUM, k: -1 })).toThrow(new RangeError('not a reference value: -1'));
    expect(() => cusumPoints([1], { ...CUSUM, h: 0 })).toThrow(new RangeError('not a decision interval: 0'));
    expect(() => cusumPoints([1], { ...CUSUM, headStart: 5 })).toThrow(new RangeError('not a head start from 0 to 4: 5'));
    expect(() => cusumPoints([1], { ...CUSUM, target: NaN })).toThrow(RangeError);
  });
});

describe('run lengths of charts that remember', () => {
  test('an EWMA that remembers nothing is a Shewhart chart', () => {
    for (const shift of [0, 1, 3]) expect(ewmaRunLength(1, 3, shift) / shewhartRunLength(['oneBeyond3Sigma'], shift)).toBeCloseTo(1, 11);
  });

  test('a CUSUM of a very small h signals with the first value beyond k + h', () => {
    const beyond = 1 / normalCdf(-2, 0, 1);
    expect(oneSidedCusumRunLength({ k: 2, h: 1e-9 }, 0) / beyond).toBeCloseTo(1, 6);
  });

  test('shifts up and down are the same to both sides; a head start only shortens', () => {
    expect(cusumRunLength(STANDARD, -0.7)).toBeCloseTo(cusumRunLength(STANDARD, 0.7), 9);
    expect(ewmaRunLength(0.2, 2.8, -0.7)).toBeCloseTo(ewmaRunLength(0.2, 2.8, 0.7), 9);
    for (const shift of [0, 0.5, 2]) expect(cusumRunLength({ ...STANDARD, headStart: 2 }, shift)).toBeLessThan(cusumRunLength(STANDARD, shift));
  });

  test('the charts themselves, on a fixed sequence of white noise, agree within five standard errors', () => {
    const draw = normalNumbers(20_261_127);
    const values = Array.from({ length: 100_000 }, () => draw() + 0.5);
    const lengths: number[] = [];
    for (let from = 0; from + 500 < values.length;) {
      const found = cusumPoints(values.slice(from, from + 500), { target: 0, ...STANDARD }).find(({ signals }) => signals.length > 0)!;
      lengths.push(found.point);
      from += found.point;
    }
    const mean = lengths.reduce((sum, one) => sum + one, 0) / lengths.length;
    const error = Math.sqrt(lengths.reduce((sum, one) => sum + (one - mean) ** 2, 0)) / lengths.length;
    expect(lengths.length).toBeGreaterThan(3000);
    expect(Math.abs(mean - cusumRunLength(STANDARD, 0.5))).toBeLessThan(5 * error);
  });

  test('the decision interval gives back its run length', () => {
    for (const [k, length] of [[0.5, 500], [1, 370], [0.25, 1000]] as const) {
      expect(cusumRunLength({ k, h: cusumDecisionInterval(k, length) }, 0) / length).toBeCloseTo(1, 9);
    }
  });

  test('what cannot be is refused', () => {
    expect(() => cusumDecisionInterval(3, 300)).toThrow(/^single values beyond 3 signal after 370\.39\d* points: no sum has a run length of 300$/);
    expect(() => cusumDecisionInterval(0.5, Infinity)).toThrow(new RangeError('a run length of more than 100000000000 points is not worked out'));
    expect(() => oneSidedCusumRunLength({ k: 3, h: 20 }, -3)).toThrow(new RangeError('a run length of more than 100000000000 points is not worked out'));
    expect(() => cusumRunLength({ k: 0.5, h: 1000 }, 0)).toThrow(new RangeError('the run length of so slow a chart is not worked out'));
    expect(() => ewmaRunLength(0, 3, 0)).toThrow(RangeError);
    expect(() => ewmaRunLength(0.2, -1, 0)).toThrow(new RangeError('not a width of limits: -1'));
    expect(() => ewmaRunLength(0.2, 3, NaN)).toThrow(new RangeError('not a shift: NaN'));
    expect(() => cusumRunLength({ k: -1, h: 4 }, 0)).toThrow(new RangeError('not a reference value: -1'));
    expect(() => cusumRunLength({ k: 1, h: 4, headStart: 9 }, 0)).toThrow(new RangeError('not a head start from 0 to 4: 9'));
  });
});

const STANDARD = { k: 0.5, h: 4 };
