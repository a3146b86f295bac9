import { describe, expect, test } from '@jest/globals';
import { PiecewiseLinearMap } from './piecewise-linear-map.js';

const through = (points: [number, number][], before: number | null, after: number | null) =>
  PiecewiseLinearMap.through(points.map(([x, y]) => ({ x, y })), { before, after });

const rising = through([[0, 10], [10, 10], [20, 30]], 1, 2);
const falling = through([[0, 100], [50, 50]], null, null);

describe('a piecewise linear map', () => {
  test.each([[-5, 5], [0, 10], [7, 10], [15, 20], [20, 30], [25, 40]])('at %d is %d', (x, y) => {
    expect(rising.at(x)).toBe(y);
  });

  test('rounds once, halves up', () => {
    expect(rising.atMm(12.25)).toBe(15);
    expect(through([[0, 0]], 1, 1).atMm(0.5)).toBe(1);
  });

  test('a flat piece inverts to its upper end, from either side of it in between', () => {
    expect(rising.upperInverseAt(10)).toBe(10);
    expect(rising.upperInverseAt(9.5)).toBe(-0.5);
    expect(rising.upperInverseAt(11)).toBe(10.5);
    expect(through([[0, 30], [10, 10], [20, 10], [30, 0]], null, null).upperInverseAt(10)).toBe(20);
  });

  test('ends where it is told to end, ends included', () => {
    expect([falling.at(0), falling.at(50)]).toEqual([100, 50]);
    expect([falling.upperInverseAt(100), falling.upperInverseAt(50)]).toEqual([0, 50]);
    for (const outside of [-0.001, 50.001, Number.NaN, Infinity]) expect(() => falling.at(outside)).toThrow(RangeError);
    for (const outside of [100.001, 49.999, Number.NaN]) expect(() => falling.upperInverseAt(outside)).toThrow(RangeError);
    expect([falling.reaches(50), falling.reaches(51)]).toEqual([true, false]);
  });

  test('has the slope just after x, and at its end the one before', () => {
    expect([-1, 0, 10, 20].map((x) => rising.slopeAt(x))).toEqual([1, 0, 2, 2]);
    expect(falling.slopeAt(50)).toBe(-1);
    expect(() => through([[1, 1]], null, null).slopeAt(1)).toThrow('single point');
  });

  test('inverts as a map unless it is flat somewhere', () => {
    expect(falling.inverse().knots).toEqual([{ x: 50, y: 50 }, { x: 100, y: 0 }]);
    expect(() => rising.inverse()).toThrow(RangeError);
  });

  test('chains where both are defined', () => {
    const chained = falling.after(through([[0, 0]], 2, 2));
    expect([chained.at(0), chained.at(10), chained.at(25)]).toEqual([100, 80, 50]);
    expect(() => chained.at(26)).toThrow(RangeError);
    expect(falling.after(falling).knots).toEqual([{ x: 50, y: 50 }]);
    expect(() => falling.after(through([[0, 200]], 1, 1).after(falling))).toThrow(RangeError);
  });

  test('plus x', () => {
    expect([-5, 5, 15, 25].map((x) => rising.plusIdentity().at(x))).toEqual([0, 15, 35, 65]);
  });

  test.each([
    ['no knot', [], 1, 1],
    ['x that does not rise', [[0, 0], [0, 1]], 1, 1],
    ['y that turns', [[0, 0], [1, 1], [2, 0.5]], 1, 1],
    ['a slope against the knots', [[0, 0], [1, 1]], 1, -1],
    ['a flat end', [[0, 0]], 0, 1],
    ['a knot that is not finite', [[0, Infinity]], 1, 1],
  ] as [string, [number, number][], number, number][])('refuses %s', (_, points, before, after) => {
    expect(() => through(points, before, after)).toThrow(RangeError);
  });
});
