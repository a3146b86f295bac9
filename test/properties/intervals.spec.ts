import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { IntervalSet } from '#libs/intervals';
import {
  cellsOf,
  coversCells,
  growCells,
  intersectCells,
  overlapCells,
  runsOf,
  shiftCells,
  subtractCells,
  unionCells,
} from '../../libs/intervals/intervals.reference.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { intervalSets, intervalWithin, rawIntervals, SMALL_UNIVERSE, wideRawIntervals } from './intervals.arbitraries.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 500 };
const raw = rawIntervals();
const set = intervalSets();
const distanceMm = fc.integer({ min: 0, max: 6 });

describe('IntervalSet against a set of millimetre cells', () => {
  test('construction joins what overlaps or touches, and nothing else', () => {
    fc.assert(
      fc.property(raw, (list) => {
        expect(IntervalSet.from(list).intervals).toEqual(runsOf(cellsOf(list)));
      }),
      PARAMETERS,
    );
  });

  test('union, intersect, subtract', () => {
    fc.assert(
      fc.property(raw, raw, (listA, listB) => {
        const [a, b] = [IntervalSet.from(listA), IntervalSet.from(listB)];
        const [cellsA, cellsB] = [cellsOf(listA), cellsOf(listB)];
        expect(a.union(b).intervals).toEqual(runsOf(unionCells(cellsA, cellsB)));
        expect(a.intersect(b).intervals).toEqual(runsOf(intersectCells(cellsA, cellsB)));
        expect(a.subtract(b).intervals).toEqual(runsOf(subtractCells(cellsA, cellsB)));
      }),
      PARAMETERS,
    );
  });

  test('complementWithin', () => {
    fc.assert(
      fc.property(raw, intervalWithin(SMALL_UNIVERSE), (list, hull) => {
        const expected = runsOf(subtractCells(cellsOf([hull]), cellsOf(list)));
        expect(IntervalSet.from(list).complementWithin(hull).intervals).toEqual(expected);
      }),
      PARAMETERS,
    );
  });

  test('covers and overlaps, of a set and of one interval', () => {
    fc.assert(
      fc.property(raw, raw, intervalWithin(SMALL_UNIVERSE), (listA, listB, one) => {
        const [a, b] = [IntervalSet.from(listA), IntervalSet.from(listB)];
        const [cellsA, cellsB, cellsOne] = [cellsOf(listA), cellsOf(listB), cellsOf([one])];
        expect(a.covers(b)).toBe(coversCells(cellsA, cellsB));
        expect(a.covers(one)).toBe(coversCells(cellsA, cellsOne));
        expect(a.overlaps(b)).toBe(overlapCells(cellsA, cellsB));
        expect(a.overlaps(one)).toBe(overlapCells(cellsA, cellsOne));
      }),
      PARAMETERS,
    );
  });

  test('covers a random part of itself, which random pairs seldom try', () => {
    fc.assert(
      fc.property(set, set, (a, b) => {
        const part = a.intersect(b);
        expect(a.covers(part)).toBe(true);
        expect(part.covers(a)).toBe(a.subtract(b).isEmpty);
        expect(part.intervals.every((one) => a.covers(one))).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('contains, totalLengthMm, isEmpty, hull', () => {
    fc.assert(
      fc.property(raw, fc.integer({ min: -42, max: 42 }), (list, pointMm) => {
        const [a, cells] = [IntervalSet.from(list), cellsOf(list)];
        expect(a.contains(pointMm)).toBe(cells.has(pointMm));
        expect(a.totalLengthMm).toBe(cells.size);
        expect(a.isEmpty).toBe(cells.size === 0);
        const hull = cells.size === 0 ? null : { fromMm: Math.min(...cells), toMm: Math.max(...cells) + 1 };
        expect(a.hull()).toEqual(hull);
      }),
      PARAMETERS,
    );
  });

  test('grow, shrink and shift', () => {
    fc.assert(
      fc.property(raw, fc.integer({ min: -6, max: 6 }), (list, byMm) => {
        const [a, cells] = [IntervalSet.from(list), cellsOf(list)];
        expect(a.grow(byMm).intervals).toEqual(runsOf(growCells(cells, byMm)));
        expect(a.shift(byMm).intervals).toEqual(runsOf(shiftCells(cells, byMm)));
      }),
      PARAMETERS,
    );
  });

  test('equals holds exactly when the cells are the same', () => {
    fc.assert(
      fc.property(raw, raw, (listA, listB) => {
        const a = IntervalSet.from(listA);
        expect(a.equals(IntervalSet.from([...listA].reverse()))).toBe(true);
        const [cellsA, cellsB] = [cellsOf(listA), cellsOf(listB)];
        const areSame = coversCells(cellsA, cellsB) && coversCells(cellsB, cellsA);
        expect(a.equals(IntervalSet.from(listB))).toBe(areSame);
      }),
      PARAMETERS,
    );
  });
});

describe('laws of the algebra', () => {
  test('every result is canonical: sorted, not empty, with a gap between neighbours', () => {
    fc.assert(
      fc.property(set, set, distanceMm, (a, b, byMm) => {
        for (const result of [a, a.union(b), a.intersect(b), a.subtract(b), a.grow(byMm), a.grow(-byMm)]) {
          result.intervals.forEach(({ fromMm, toMm }, index, all) => {
            expect(fromMm).toBeLessThan(toMm);
            expect(toMm).toBeLessThan(all[index + 1]?.fromMm ?? Infinity);
          });
        }
      }),
      PARAMETERS,
    );
  });

  test('a set and its complement partition the hull', () => {
    fc.assert(
      fc.property(set, (a) => {
        const rest = a.complementWithin(SMALL_UNIVERSE);
        expect(a.overlaps(rest)).toBe(false);
        expect(a.union(rest).intervals).toEqual([SMALL_UNIVERSE]);
        expect(rest.complementWithin(SMALL_UNIVERSE).equals(a)).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('De Morgan and distribution', () => {
    fc.assert(
      fc.property(set, set, set, (a, b, c) => {
        const not = (x: IntervalSet) => x.complementWithin(SMALL_UNIVERSE);
        expect(not(a.union(b)).equals(not(a).intersect(not(b)))).toBe(true);
        expect(a.intersect(b.union(c)).equals(a.intersect(b).union(a.intersect(c)))).toBe(true);
        expect(a.subtract(b.union(c)).equals(a.subtract(b).subtract(c))).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('union and intersect commute, associate, absorb and keep lengths', () => {
    fc.assert(
      fc.property(set, set, set, (a, b, c) => {
        expect(a.union(b).equals(b.union(a))).toBe(true);
        expect(a.intersect(b).equals(b.intersect(a))).toBe(true);
        expect(a.union(b).union(c).equals(a.union(b.union(c)))).toBe(true);
        expect(a.union(a.intersect(b)).equals(a)).toBe(true);
        expect(a.union(b).totalLengthMm + a.intersect(b).totalLengthMm).toBe(a.totalLengthMm + b.totalLengthMm);
      }),
      PARAMETERS,
    );
  });

  test('A grown lies in B exactly when A lies in B shrunk', () => {
    fc.assert(
      fc.property(set, set, distanceMm, (a, b, byMm) => {
        const around = a.grow(byMm).union(b);
        expect(b.covers(a.grow(byMm))).toBe(b.grow(-byMm).covers(a));
        expect(around.grow(-byMm).covers(a)).toBe(true);
        expect(a.covers(a.grow(-byMm).grow(byMm))).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('shifting there and back changes nothing, and carries over every operation', () => {
    fc.assert(
      fc.property(set, set, fc.integer({ min: -1e9, max: 1e9 }), (a, b, byMm) => {
        expect(a.shift(byMm).shift(-byMm).equals(a)).toBe(true);
        expect(a.shift(byMm).subtract(b.shift(byMm)).equals(a.subtract(b).shift(byMm))).toBe(true);
      }),
      PARAMETERS,
    );
  });

  test('the operands are never changed', () => {
    fc.assert(
      fc.property(set, set, distanceMm, (a, b, byMm) => {
        const before = [a.toMultirange(), b.toMultirange()];
        a.union(b).intersect(a).subtract(b).grow(byMm).shift(byMm);
        expect([a.toMultirange(), b.toMultirange()]).toEqual(before);
      }),
      PARAMETERS,
    );
  });

  test('the multirange text reads back to the same set, up to the ends of the safe integers', () => {
    fc.assert(
      fc.property(fc.oneof(raw, wideRawIntervals()), (list) => {
        const a = IntervalSet.from(list);
        expect(IntervalSet.parseMultirange(a.toMultirange()).equals(a)).toBe(true);
      }),
      PARAMETERS,
    );
  });
});
