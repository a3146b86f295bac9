import { describe, expect, test } from '@jest/globals';
import type { StationReading } from './survey.entity.js';
import { pathOf, problemOfPath } from './survey.rules.js';

const origin = { northM: '0', eastM: '0', tvdM: '0' };

const station = (mdM: string, inclinationDeg: string, azimuthDeg = '0'): StationReading => ({ mdM, inclinationDeg, azimuthDeg });

describe('the path of a survey', () => {
  test('a straight hole at 60 degrees from the vertical gains half its length in depth', () => {
    const path = pathOf({ stations: [station('10', '60', '90'), station('110.5', '60', '90')], tieIn: { northM: '3', eastM: '-2', tvdM: '1.25' } });
    expect(path.mdRange()).toEqual({ fromMdMm: 10_000, toMdMm: 110_500 });
    expect(path.tvdAt(10_000)).toBe(1250);
    expect(path.tvdAt(110_500)).toBeCloseTo(1250 + 50_250, 6);
    expect(path.positionAt(110_500).eastMm).toBeCloseTo(-2000 + 100_500 * Math.sin(Math.PI / 3), 6);
    expect(path.positionAt(110_500).northMm).toBeCloseTo(3000, 6);
  });

  test('metres become the nearest mm, not a product that has lost a digit', () => {
    expect(1.005 * 1000).not.toBe(1005);
    expect(pathOf({ stations: [station('1.005', '0'), station('2', '0')], tieIn: origin }).mdRange().fromMdMm).toBe(1005);
  });
});

describe('what cannot be a path', () => {
  test('a path has no problem', () => {
    expect(problemOfPath({ stations: [station('0', '80'), station('30', '78')], tieIn: origin })).toBeNull();
  });

  test.each(['30.00', '29.99'])('a station at %s m below one at 30 m is named as it was sent', (mdM) => {
    const stations = [station('0', '80'), station('30', '78'), station(mdM, '77')];
    expect(problemOfPath({ stations, tieIn: origin })).toEqual({
      field: 'stations[2].mdM', value: mdM, limit: 'deeper than the station above, at 30 m',
    });
  });

  test('two stations a half turn apart fix no arc', () => {
    expect(problemOfPath({ stations: [station('0', '90', '0'), station('30', '90', '180')], tieIn: origin })).toMatchObject({
      field: 'stations[1].doglegDeg', limit: 'below 180',
    });
  });
});
