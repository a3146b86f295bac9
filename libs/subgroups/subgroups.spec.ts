import { expect, test } from '@jest/globals';
import { lengthsOf, subgroupsOf, windowsOf } from './index.js';

const at = (...fromMm: number[]) => fromMm.map((from) => ({ fromMm: from, toMm: from + 1 }));
const SPLICE = { atMm: 20_000, label: 'splice S-2' };

test('readings close together make a subgroup, and the next begins beyond the length over which they resemble each other', () => {
  const { subgroups, leftOut } = subgroupsOf(at(0, 100, 300, 5_000, 12_000, 12_050), [], [], { size: 2, withinMm: 200, everyMm: 10_000 });
  expect(subgroups).toEqual([
    { readings: [0, 1], place: { fromMm: 0, toMm: 101 }, beginsAnew: false }, { readings: [4, 5], place: { fromMm: 12_000, toMm: 12_051 }, beginsAnew: false },
  ]);
  expect(leftOut).toEqual([2, 3].map((reading) => ({ reading, because: 'between subgroups: less than 10.000 m after the one before began' })));
});

test('no subgroup reaches across a splice, and the one behind it begins anew at once', () => {
  const { subgroups, leftOut } = subgroupsOf(at(15_000, 19_950, 20_000, 20_100), [SPLICE], [], { size: 2, withinMm: 200, everyMm: 10_000 });
  expect(subgroups).toEqual([{ readings: [2, 3], place: { fromMm: 20_000, toMm: 20_101 }, beginsAnew: false }]);
  expect(leftOut).toEqual([{ reading: 0, because: 'too few beside it within 0.200 m' }, { reading: 1, because: 'too few beside it before splice S-2' }]);
  expect(subgroupsOf(at(19_000, 20_500), [SPLICE], [], { size: 1, withinMm: 0, everyMm: 10_000 }).subgroups.map(({ beginsAnew }) => beginsAnew)).toEqual([false, true]);
});

test('a reading over a boundary and one on pipe that is left out make no subgroup, each with its reason', () => {
  const { subgroups, leftOut } = subgroupsOf(
    [{ fromMm: 0, toMm: 500 }, { fromMm: 19_999, toMm: 20_001 }, { fromMm: 30_000, toMm: 30_100 }], [SPLICE], [{ fromMm: 30_050, toMm: 31_000, because: 'probe lifted' }], { size: 1, withinMm: 0, everyMm: 0 },
  );
  expect(subgroups.map(({ readings }) => readings)).toEqual([[0]]);
  expect(leftOut).toEqual([{ reading: 1, because: 'over a boundary: splice S-2' }, { reading: 2, because: 'probe lifted' }]);
});

test('of many readings at one place each counts once', () => {
  const { subgroups, leftOut } = subgroupsOf(at(5, 5, 5, 5, 5), [], [], { size: 2, withinMm: 0, everyMm: 0 });
  expect(subgroups.map(({ readings }) => readings)).toEqual([[0, 1], [2, 3]]);
  expect(leftOut).toEqual([{ reading: 4, because: 'too few beside it within 0.000 m' }]);
});

test('readings out of order, sizes below 1 and lengths that are no whole millimetres are refused', () => {
  expect(() => subgroupsOf(at(5, 4), [], [], { size: 1, withinMm: 0, everyMm: 0 })).toThrow(RangeError);
  expect(() => subgroupsOf([], [], [], { size: 0, withinMm: 0, everyMm: 0 })).toThrow(RangeError);
  expect(() => subgroupsOf([], [], [], { size: 1, withinMm: -1, everyMm: 0 })).toThrow('withinMm');
  expect(() => windowsOf({ fromMm: 0, toMm: 1 }, [], [], { size: 1, withinMm: 0, everyMm: 0 }, 0)).toThrow(RangeError);
  expect(() => lengthsOf({ fromMm: 0, toMm: 1 }, [], [], 0.5)).toThrow(RangeError);
});

test('windows lie one behind the other from the splice on, or spread evenly within a subgroup, the same whatever is asked', () => {
  const plan = { size: 3, withinMm: 200, everyMm: 5_000 };
  const whole = windowsOf({ fromMm: 0, toMm: 32_000 }, [SPLICE], [{ fromMm: 19_000, toMm: 21_000, because: 'within 1.000 m of splice S-2' }], plan, 100);
  expect(whole.subgroups.map(({ windows }) => windows.map(({ fromMm }) => fromMm))).toEqual([
    ...[0, 5_000, 10_000, 15_000, 21_000, 26_000, 31_000].map((from) => [from, from + 100, from + 200]),
  ]);
  expect(whole.subgroups.map(({ beginsAnew }) => beginsAnew)).toEqual([false, false, false, false, true, false, false]);
  expect(whole.leftOut).toEqual([{ place: { fromMm: 20_000, toMm: 21_000 }, because: 'within 1.000 m of splice S-2' }]);
  const part = windowsOf({ fromMm: 5_001, toMm: 26_299 }, [SPLICE], [{ fromMm: 19_000, toMm: 21_000, because: 'within 1.000 m of splice S-2' }], plan, 100);
  expect(part.subgroups.map(({ windows }) => windows[0]?.fromMm)).toEqual([10_000, 15_000, 21_000]);
  expect(windowsOf({ fromMm: 0, toMm: 1_000 }, [], [], { size: 3, withinMm: 700, everyMm: 0 }, 100).subgroups[0]?.windows.map(({ fromMm }) => fromMm)).toEqual([0, 350, 700]);
});

test('a subgroup of windows that meets pipe left out, or does not fit before a splice, is told', () => {
  const { subgroups, leftOut } = windowsOf({ fromMm: 0, toMm: 20_000 }, [SPLICE], [{ fromMm: 9_000, toMm: 9_010, because: 'coupling lost' }], { size: 2, withinMm: 0, everyMm: 9_000 }, 1_500);
  expect(subgroups.map(({ windows }) => windows[0]?.fromMm)).toEqual([0]);
  expect(leftOut).toEqual([{ place: { fromMm: 9_000, toMm: 12_000 }, because: 'coupling lost' }, { place: { fromMm: 18_000, toMm: 20_000 }, because: 'too little pipe before splice S-2' }]);
});

test('what is counted over is as long as it is: less at a splice and where pipe is left out', () => {
  const { lengths, leftOut } = lengthsOf({ fromMm: 1_000, toMm: 28_000 }, [SPLICE], [{ fromMm: 7_000, toMm: 8_500, because: 'stop' }, { fromMm: 16_000, toMm: 20_000, because: 'near S-2' }], 8_000);
  expect(lengths.map(({ place, pipe, beginsAnew }) => [place.fromMm, place.toMm, pipe.totalLengthMm, beginsAnew])).toEqual([
    [1_000, 8_000, 6_000, false], [8_000, 16_000, 7_500, false], [20_000, 28_000, 8_000, true],
  ]);
  expect(leftOut).toEqual([{ place: { fromMm: 16_000, toMm: 20_000 }, because: 'near S-2' }]);
});
