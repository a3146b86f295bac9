import { expect, test } from '@jest/globals';
import fc from 'fast-check';
import type { Point } from '../canvas.js';
import { thinned } from './thinned.js';

const rows = fc.array(fc.tuple(fc.integer({ min: 0, max: 4_000 }), fc.integer({ min: -50, max: 50 })), { maxLength: 300 })
  .map((points) => points.map(([x, y]): Point => [x / 100, y]).sort(([one], [other]) => one - other));
const columns = (points: readonly Point[], width: number): Map<number, number[]> => {
  const found = new Map<number, number[]>();
  for (const [x, y] of points) found.set(Math.floor(x / width), [...(found.get(Math.floor(x / width)) ?? []), y]);
  return found;
};

test('a line reaches as high and as low in every column as before, with at most four points in each, in their order', () => {
  fc.assert(fc.property(rows, fc.constantFrom(0.5, 1, 3), (points, width) => {
    const kept = thinned(points, width);
    const [before, after] = [columns(points, width), columns(kept, width)];
    expect([...after.keys()]).toEqual([...before.keys()]);
    for (const [column, all] of before) {
      const left = after.get(column) ?? [];
      expect([Math.min(...left), Math.max(...left), left[0], left.at(-1)]).toEqual([Math.min(...all), Math.max(...all), all[0], all.at(-1)]);
      expect(left.length).toBeLessThanOrEqual(4);
    }
    let from = -1;
    for (const point of kept) {
      from = points.indexOf(point, from + 1);
      expect(from).toBeGreaterThanOrEqual(0);
    }
  }));
});

test('a line that has no more points than that stays as it is', () => {
  const points: Point[] = [[0, 1], [0.2, 2], [0.4, 3], [0.6, 4], [1, 5]];
  expect(thinned(points, 1)).toEqual(points);
});
