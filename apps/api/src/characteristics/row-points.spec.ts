import { expect, test } from '@jest/globals';
import { boundaryAt, groundOf, link, readingAt } from './characteristics.factory.js';
import { pointsOf } from './row-points.js';

const TWO = { subgroup: { size: 2, withinMm: 1_000, everyMm: 5_000 } };

test('readings by place make subgroups within their stretches, with all that is left out', () => {
  const readings = [readingAt(0, 1, { coil: 'A' }), readingAt(500, 3, { coil: 'A' }), readingAt(2_000, 9), readingAt(6_000, 5, { coil: 'A' }), readingAt(6_500, 6, { coil: 'B' }), readingAt(9_990, 4), readingAt(10_000, 7), readingAt(10_100, 8)];
  const { points, leftOut } = pointsOf({ readings, leftOut: [{ place: null, because: 'a bound', records: [] }] }, { gathering: 'by place' }, groundOf({ boundaries: [boundaryAt(10_000, 'splice S-1')] }), TWO);
  expect(points.map(({ values, place, coil, beginsAnew }) => [values, place, coil, beginsAnew])).toEqual([
    [[1, 3], { fromMm: 0, toMm: 501 }, 'A', false], [[5, 6], { fromMm: 6_000, toMm: 6_501 }, null, false], [[7, 8], { fromMm: 10_000, toMm: 10_101 }, null, true],
  ]);
  expect(leftOut.map(({ because, records }) => `${because} ${records.map(({ id }) => id).join()}`)).toEqual([
    'a bound ', 'between subgroups: less than 5.000 m after the one before began r2000', 'between subgroups: less than 5.000 m after the one before began r9990',
  ]);
});

test('without a plan for subgroups each reading is a point, unless it lies on pipe that is left out', () => {
  const exclusions = [{ fromMm: 100, toMm: 200, because: 'within 0.050 m of splice S-1', record: link('s1', 'splice') }];
  const { points, leftOut } = pointsOf({ readings: [readingAt(0, 1), readingAt(150, 2), readingAt(200, 3)], leftOut: [] }, { gathering: 'by place' }, groundOf({ exclusions }), { subgroup: null });
  expect([points.map(({ values }) => values), leftOut.map(({ because }) => because)]).toEqual([[[1], [3]], ['within 0.050 m of splice S-1']]);
});

test('whole subgroups are taken as they come, over places they say nothing of, and break where a boundary lies between', () => {
  const readings = [readingAt(0, 1, { label: 'S-1' }), readingAt(0, 2, { label: 'S-1' }), readingAt(20_000, 3), readingAt(20_000, 4), readingAt(null, 5), readingAt(null, 6)];
  const { points } = pointsOf({ readings, leftOut: [] }, { gathering: 'in subgroups' }, groundOf({ boundaries: [boundaryAt(15_000)] }), TWO);
  expect(points.map(({ values, beginsAnew, place, label }) => [values, beginsAnew, place, label])).toEqual([
    [[1, 2], false, { fromMm: 0, toMm: 1 }, 'S-1'], [[3, 4], true, { fromMm: 20_000, toMm: 20_001 }, ''], [[5, 6], false, null, ''],
  ]);
});

test('points stay points, with what they count of', () => {
  const { points } = pointsOf({ readings: [readingAt(0, 2, { of: 8 }), readingAt(8_000, 0, { of: 3 })], leftOut: [] }, { gathering: 'points' }, groundOf(), TWO);
  expect(points.map(({ values, of }) => [values, of])).toEqual([[[2], 8], [[0], 3]]);
});
