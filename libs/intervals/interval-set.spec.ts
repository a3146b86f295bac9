import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';

const setOf = (...bounds: [number, number][]) => IntervalSet.from(bounds.map(([from, to]) => interval(from, to)));

describe('interval', () => {
  test('keeps its bounds, is frozen, and has no negative zero', () => {
    const made = interval(-0, 5);
    expect(made).toStrictEqual({ fromMm: 0, toMm: 5 });
    expect(Object.isFrozen(made)).toBe(true);
  });

  test.each([
    [5, 5, 'interval is empty: [5, 5)'],
    [6, 5, 'interval is reversed: [6, 5)'],
    [0.5, 5, 'fromMm is not a safe integer: 0.5'],
    [0, Number.NaN, 'toMm is not a safe integer: NaN'],
    [0, Infinity, 'toMm is not a safe integer: Infinity'],
    [-(2 ** 53), 0, 'fromMm is not a safe integer: -9007199254740992'],
  ])('refuses [%d, %d)', (fromMm, toMm, message) => {
    expect(() => interval(fromMm, toMm)).toThrow(new RangeError(message));
  });
});

describe('IntervalSet', () => {
  test('joins touching and overlapping intervals given in any order', () => {
    const joined = IntervalSet.of(interval(7, 9), interval(3, 5), interval(1, 3), interval(4, 6));
    expect(joined.intervals).toEqual([interval(1, 6), interval(7, 9)]);
  });

  test('a nested interval does not shorten the one around it', () => {
    expect(setOf([0, 10], [2, 3], [4, 5]).intervals).toEqual([interval(0, 10)]);
  });

  test('checks intervals that were not made by interval()', () => {
    expect(() => IntervalSet.of({ fromMm: 4, toMm: 2 })).toThrow(new RangeError('interval is reversed: [4, 2)'));
    expect(() => IntervalSet.empty.covers({ fromMm: 4, toMm: 4 })).toThrow(new RangeError('interval is empty: [4, 4)'));
    expect(() => IntervalSet.empty.overlaps({ fromMm: 4, toMm: 4 })).toThrow(RangeError);
    expect(() => IntervalSet.empty.union({ fromMm: 4, toMm: 4 })).toThrow(RangeError);
  });

  test('cannot be changed from outside', () => {
    const source = [{ fromMm: 0, toMm: 5 }];
    const made = IntervalSet.from(source);
    source[0]!.toMm = 99;
    expect(made.toMultirange()).toBe('{[0,5)}');
    expect(Object.isFrozen(made.intervals)).toBe(true);
    expect(made.intervals.every((one) => Object.isFrozen(one))).toBe(true);
  });

  test('operations take a single interval as well', () => {
    const made = setOf([0, 5], [10, 15]);
    expect(made.union(interval(5, 10)).toMultirange()).toBe('{[0,15)}');
    expect(made.intersect(interval(4, 11)).toMultirange()).toBe('{[4,5),[10,11)}');
    expect(made.subtract(interval(1, 12)).toMultirange()).toBe('{[0,1),[12,15)}');
  });

  test('one hole can cut several intervals, and several holes one interval', () => {
    expect(setOf([0, 5], [6, 9], [10, 15]).subtract(setOf([3, 12])).toMultirange()).toBe('{[0,3),[12,15)}');
    expect(setOf([0, 10]).subtract(setOf([0, 1], [4, 5], [9, 12])).toMultirange()).toBe('{[1,4),[5,9)}');
  });

  test('the complement ignores what lies outside the hull', () => {
    expect(setOf([-5, 2], [4, 20]).complementWithin(interval(0, 10)).toMultirange()).toBe('{[2,4)}');
  });

  test('touching is neither overlapping nor covering', () => {
    expect(setOf([0, 5]).overlaps(interval(5, 6))).toBe(false);
    expect(setOf([0, 5]).overlaps(setOf([5, 6]))).toBe(false);
    expect(setOf([0, 5]).covers(interval(4, 6))).toBe(false);
    expect(setOf([0, 5], [6, 9]).covers(interval(4, 7))).toBe(false);
  });

  test('the last position of a half-open interval is outside it', () => {
    expect([-1, 0, 4, 5].map((pointMm) => setOf([0, 5]).contains(pointMm))).toEqual([false, true, true, false]);
    expect(() => setOf([0, 5]).contains(1.5)).toThrow(new RangeError('pointMm is not a safe integer: 1.5'));
  });

  test('the empty set covers nothing but itself, has no hull and no length', () => {
    const { empty } = IntervalSet;
    expect([empty.isEmpty, empty.totalLengthMm, empty.hull()]).toEqual([true, 0, null]);
    expect(empty.covers(IntervalSet.of())).toBe(true);
    expect(empty.covers(interval(0, 1))).toBe(false);
    expect(setOf([0, 1]).covers(empty)).toBe(true);
    expect(empty.overlaps(empty)).toBe(false);
    expect(empty.equals(setOf([0, 1]))).toBe(false);
  });

  test('growing closes gaps of twice the distance; shrinking drops what is not longer than that', () => {
    expect(setOf([0, 5], [9, 12], [17, 20]).grow(2).toMultirange()).toBe('{[-2,14),[15,22)}');
    expect(setOf([0, 4], [10, 15]).grow(-2).toMultirange()).toBe('{[12,13)}');
    expect(setOf([0, 4]).grow(Number.MIN_SAFE_INTEGER).isEmpty).toBe(true);
    expect(() => setOf([0, 4]).grow(0.5)).toThrow(new RangeError('byMm is not a safe integer: 0.5'));
  });

  test('moving beyond the safe integers is refused', () => {
    const atTheEnd = setOf([0, Number.MAX_SAFE_INTEGER]);
    expect(() => atTheEnd.grow(1)).toThrow(new RangeError('toMm is not a safe integer: 9007199254740992'));
    expect(() => atTheEnd.shift(1)).toThrow(RangeError);
    expect(() => atTheEnd.shift(Number.NaN)).toThrow(new RangeError('byMm is not a safe integer: NaN'));
    const widest = setOf([Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER]);
    expect(() => widest.totalLengthMm).toThrow(RangeError);
  });
});
