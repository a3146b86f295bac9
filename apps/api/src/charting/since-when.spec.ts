import { expect, test } from '@jest/globals';
import { microseconds } from '#libs/persistence';
import { readingAt } from '../characteristics/characteristics.factory.js';
import { minutesBetween, seenSince } from './since-when.js';

type Model = Parameters<typeof seenSince>[1];

const at = (minute: number): string => `2026-03-02T10:${String(minute).padStart(2, '0')}:00.000000Z`;
/** The line backed up between the second and the third reading. */
const model = { lengths: { lengths: { weldFootage: [[0, 0], [4, 4_000], [8, 2_000], [12, 6_000]].map(([minute = 0, footageMm = 0]) => ({ atUs: microseconds(at(minute)), footageMm })) } } } as unknown as Model;
const sampled = (fromMm: number, toMm: number): string | null => seenSince({ place: { fromMm, toMm }, readings: [] }, model);

test('what is read of samples can be seen once its pipe was welded, by the first reading that is as far', () => {
  expect([sampled(0, 1), sampled(1_000, 3_000), sampled(3_000, 4_000), sampled(4_000, 4_001), sampled(5_000, 7_000)]).toEqual([at(4), at(4), at(4), at(12), null]);
});

test('what somebody read can be seen from then on, and of several readings from the last; what nothing tells of is null', () => {
  const readings = [readingAt(100, 5, { observedAt: at(3) }), readingAt(200, 5, { observedAt: at(2) })];
  expect([seenSince({ place: { fromMm: 100, toMm: 210 }, readings }, model), seenSince({ place: null, readings: [] }, model), minutesBetween(at(3), at(12))]).toEqual([at(3), null, 9]);
});
