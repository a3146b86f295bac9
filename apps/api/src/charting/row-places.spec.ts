import { describe, expect, test } from '@jest/globals';
import type { RowPoint } from '../characteristics/chart-row.js';
import { hullOf } from '../characteristics/row-points.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { RecordPlaces } from './record-places.js';
import { isRemoved, unmet } from './row-places.js';

const point = (fromMm: number, toMm: number): RowPoint => ({ place: { fromMm, toMm }, label: '', values: [1], of: null, beginsAnew: false, readings: [], coil: null });
const unplaced = (label: string): RowPoint => ({ ...point(0, 1), place: null, label });

describe('points of a row', () => {
  test('are removed where a place meets them, and without a place by their label alone', () => {
    const removal = { places: [{ fromMm: 10, toMm: 20 }], labels: ['LM-03'] };
    expect([point(0, 10), point(0, 11), point(19, 30), point(20, 30), unplaced('LM-03'), unplaced('LM-04'), { ...point(0, 5), label: 'LM-03' }].map((one) => isRemoved(one, removal))).toEqual([false, true, true, false, true, false, false]);
  });

  test('that a removal means and that are none are told', () => {
    expect(unmet([point(0, 10), unplaced('LM-03')], { places: [{ fromMm: 9, toMm: 12 }, { fromMm: 10, toMm: 12 }], labels: ['LM-03', 'LM-04'] })).toEqual({ places: [{ fromMm: 10, toMm: 12 }], labels: ['LM-04'] });
  });

  test('reach from the first to the last that has a place', () => {
    expect([hullOf([point(5, 9), unplaced('a'), point(1, 3)]), hullOf([unplaced('a')]), hullOf([])]).toEqual([{ fromMm: 1, toMm: 9 }, null, null]);
  });
});

test('records that points share are told once, in the version that counted', () => {
  const record = (id: string, version = 1): RecordLink => ({ kind: 'channel', id, version, label: id });
  const places = new RecordPlaces();
  const shared = [record('a'), record('b')];
  expect([places.of(shared), places.of([record('b'), record('c')]), places.ofAll([shared, shared]), places.ofAll([[record('a', 2)], shared])]).toEqual([[0, 1], [1, 2], [0, 1], [3, 0, 1]]);
  expect(places.records.map(({ id, version }) => `${id}${version}`)).toEqual(['a1', 'b1', 'c1', 'a2']);
});
