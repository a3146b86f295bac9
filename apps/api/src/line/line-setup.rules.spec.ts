import { describe, expect, test } from '@jest/globals';
import type { StationColumn } from './line-setup.entity.js';
import { refuseContradictingStations } from './line-setup.rules.js';

const station = (name: string, changes: Partial<StationColumn> = {}): StationColumn => ({
  name, role: null, pathMinMm: 6_200, pathMaxMm: 6_200, uMm: '3', ...changes,
});

describe('the stations of a set-up', () => {
  test('are taken with one hang-off, ranges and equal distances', () => {
    const stations = [station('wall gauge'), station('eddy head'), station('hang-off', { role: 'hang-off' }), station('strip splice', { pathMinMm: -14_000, pathMaxMm: -10_000 })];
    expect(() => { refuseContradictingStations(stations); }).not.toThrow();
  });

  test.each<[string, StationColumn[], string]>([
    ['a name twice', [station('gauge'), station('gauge')], 'a name that no other station has'],
    ['two hang-offs', [station('a', { role: 'hang-off' }), station('b', { role: 'hang-off' })], 'no role: the pipe hangs at a'],
    ['a reversed range', [station('a', { pathMaxMm: 6_199 })], 'at least pathMinMm, 6200 mm'],
  ])('are refused with %s', (_, stations, limit) => {
    expect(() => { refuseContradictingStations(stations); }).toThrow(limit);
  });
});
