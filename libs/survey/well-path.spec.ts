import { describe, expect, test } from '@jest/globals';
import { SurveyError, type SurveyStation, wellPath } from './index.js';

function station(mdMm: number, inclinationDeg: number, azimuthDeg = 0): SurveyStation {
  return { mdMm, inclinationDeg, azimuthDeg };
}

function refusalOf(action: () => unknown): SurveyError {
  try {
    action();
  } catch (error) {
    if (error instanceof SurveyError) {
      return error;
    }
    throw error;
  }
  throw new Error('nothing was refused');
}

/** Radius (mm) of an arc that turns by `angleDeg` over `lengthMm`. */
function radiusMm(lengthMm: number, angleDeg: number): number {
  return lengthMm / ((angleDeg * Math.PI) / 180);
}

describe('what cannot be a well path', () => {
  test.each([
    ['one station', [station(0, 0)], 'stations', 1],
    ['a measured depth that does not rise', [station(0, 0), station(5, 1), station(5, 2)], 'stations[2].mdMm', 5],
    ['an inclination above 180', [station(0, 0), station(5, 180.5)], 'stations[1].inclinationDeg', 180.5],
    ['a negative inclination', [station(0, -0.1), station(5, 0)], 'stations[0].inclinationDeg', -0.1],
    ['an azimuth above 360', [station(0, 5, 360.1), station(5, 5)], 'stations[0].azimuthDeg', 360.1],
    ['an inclination that is not a number', [station(0, NaN), station(5, 5)], 'stations[0].inclinationDeg', NaN],
    ['an infinite measured depth', [station(0, 5), station(Infinity, 5)], 'stations[1].mdMm', Infinity],
    ['a half turn in inclination', [station(0, 0), station(5, 180)], 'stations[1].doglegDeg', 180],
    ['a half turn in azimuth', [station(0, 90, 10), station(5, 90, 190)], 'stations[1].doglegDeg', 180],
  ])('%s is refused', (_title, stations, field, value) => {
    const refusal = refusalOf(() => wellPath(stations));
    expect(refusal).toBeInstanceOf(RangeError);
    expect({ field: refusal.field, value: refusal.value }).toEqual({ field, value });
  });

  test('a tie-in that is not a number is refused', () => {
    const stations = [station(0, 0), station(5, 0)];
    const refusal = refusalOf(() => wellPath(stations, { northMm: 0, eastMm: 0, tvdMm: NaN }));
    expect(refusal.field).toBe('tieIn.tvdMm');
  });

  test('the message names the field, the value and the limit', () => {
    const refusal = refusalOf(() => wellPath([station(0, 0), station(5, 181)]));
    expect(refusal.message).toBe('stations[1].inclinationDeg is 181: it must lie within 0 to 180');
    expect(refusal.limit).toBe('0 to 180');
  });
});

describe('what the survey does not reach', () => {
  const path = wellPath([station(1000, 80), station(4000, 85)]);

  test.each([999.999, 4000.001, NaN])('measured depth %p', (mdMm) => {
    for (const ask of [() => path.positionAt(mdMm), () => path.tvdAt(mdMm), () => path.explainTvd(mdMm)]) {
      const refusal = refusalOf(ask);
      expect(refusal.message).toBe(`The survey does not reach measured depth ${mdMm} mm: it covers 1000 mm to 4000 mm`);
    }
  });

  test('a vertical depth above or below the path has no measured depth', () => {
    const { fromTvdMm, toTvdMm } = path.tvdRange();
    expect(path.mdsOfTvd(fromTvdMm - 1)).toEqual([]);
    expect(path.mdIntervalsOfTvd(toTvdMm + 1, toTvdMm + 5)).toEqual([]);
  });

  test('reversed and non-numeric depth limits are refused', () => {
    expect(refusalOf(() => path.mdIntervalsOfTvd(5, 4)).field).toBe('toTvdMm');
    expect(refusalOf(() => path.mdIntervalsOfTvd(NaN, 4)).field).toBe('fromTvdMm');
    expect(refusalOf(() => path.verticalSection(NaN)).field).toBe('sectionAzimuthDeg');
  });
});

describe('positions', () => {
  test('a path starts at its tie-in and returns station angles as surveyed', () => {
    const path = wellPath([station(0, 0, 123), station(1000, 0, 77)], { northMm: 5, eastMm: -6, tvdMm: 7 });
    expect(path.positionAt(0)).toEqual({ northMm: 5, eastMm: -6, tvdMm: 7, inclinationDeg: 0, azimuthDeg: 123 });
    expect(path.positionAt(1000)).toEqual({ northMm: 5, eastMm: -6, tvdMm: 1007, inclinationDeg: 0, azimuthDeg: 77 });
    expect(path.positionAt(250).azimuthDeg).toBe(123);
  });

  test('the azimuth of a vertical station makes no dogleg', () => {
    const path = wellPath([station(0, 0, 10), station(30_000, 3, 250)]);
    expect(path.stationPositions()[1]?.doglegDeg).toBeCloseTo(3, 12);
    expect(path.stationPositions()[1]?.doglegSeverityDegPer30M).toBeCloseTo(3, 12);
  });

  test('a quarter circle: halfway down it the hole is at 45 degrees and R/sqrt(2) deep', () => {
    const path = wellPath([station(0, 0), station(100_000, 90, 90)]);
    const middle = path.positionAt(50_000);
    const radius = radiusMm(100_000, 90);
    expect(middle.inclinationDeg).toBeCloseTo(45, 10);
    expect(middle.azimuthDeg).toBeCloseTo(90, 10);
    expect(middle.tvdMm).toBeCloseTo(radius * Math.SQRT1_2, 6);
    expect(middle.eastMm).toBeCloseTo(radius * (1 - Math.SQRT1_2), 6);
  });

  test('a turn of almost half a circle keeps its digits', () => {
    const path = wellPath([station(0, 0.5), station(100_000, 179.5)]);
    const radius = radiusMm(100_000, 179);
    const half = (0.5 * Math.PI) / 180;
    expect(path.tvdAt(50_000)).toBeCloseTo(radius * (1 - Math.sin(half)), 6);
    expect(path.tvdAt(100_000)).toBeCloseTo(0, 6);
  });

  test.each([1e-3, 1e-5, 1e-7, 1e-9, 1e-11, 1e-13])('a dogleg of %p degrees follows its circle', (angleDeg) => {
    const path = wellPath([station(0, 90), station(1_000_000, 90 + angleDeg)]);
    const angleRad = (angleDeg * Math.PI) / 180;
    expect(path.stationPositions()[1]?.doglegDeg).toBeCloseTo(angleDeg, 13);
    // -L * dl/2 at the end and a quarter of it halfway: the circle's drop for small angles (next term is dl^3/24).
    expect(path.tvdAt(1_000_000)).toBeCloseTo((-1_000_000 * angleRad) / 2, 6);
    expect(path.tvdAt(500_000)).toBeCloseTo((-1_000_000 * angleRad) / 8, 6);
    expect(path.positionAt(1_000_000).northMm).toBeCloseTo(1_000_000 * (1 - angleRad ** 2 / 6), 6);
  });

  test('the vertical section is the distance along its azimuth', () => {
    const path = wellPath([station(0, 90, 30), station(10_000, 90, 30)], { northMm: 0, eastMm: 0, tvdMm: 0 });
    expect(path.verticalSection(30)[1]?.sectionMm).toBeCloseTo(10_000, 8);
    expect(path.verticalSection(120)[1]?.sectionMm).toBeCloseTo(0, 8);
    expect(path.verticalSection(90)[1]?.sectionMm).toBeCloseTo(5000, 8);
  });
});

describe('measured depths of a vertical depth', () => {
  test('a straight inclined hole reaches each depth once', () => {
    const path = wellPath([station(0, 60), station(100_000, 60), station(200_000, 60)]);
    const [only, ...others] = path.mdIntervalsOfTvd(20_000, 70_000);
    expect(others).toEqual([]);
    expect(only?.fromMdMm).toBeCloseTo(40_000, 6);
    expect(only?.toMdMm).toBeCloseTo(140_000, 6);
  });

  test('past horizontal a depth is reached on the way down and on the way up', () => {
    const path = wellPath([station(0, 88), station(100_000, 92)]);
    const deepest = radiusMm(100_000, 4) * (1 - Math.cos((2 * Math.PI) / 180));
    expect(path.tvdRange().fromTvdMm).toBeCloseTo(0, 9);
    expect(path.tvdRange().toTvdMm).toBeCloseTo(deepest, 6);

    const half = path.mdsOfTvd(deepest / 2);
    expect(half.map(({ fromMdMm, toMdMm }) => toMdMm - fromMdMm)).toEqual([0, 0]);
    expect((half[0]?.fromMdMm ?? 0) + (half[1]?.fromMdMm ?? 0)).toBeCloseTo(100_000, 6);

    const band = path.mdIntervalsOfTvd(deepest / 4, deepest / 2);
    expect(band).toHaveLength(2);
    expect(band[0]?.toMdMm).toBe(half[0]?.fromMdMm);
    expect(band[1]?.fromMdMm).toBe(half[1]?.fromMdMm);
    expect(path.mdIntervalsOfTvd(deepest / 2, deepest)).toEqual([
      { fromMdMm: half[0]?.fromMdMm, toMdMm: half[1]?.fromMdMm },
    ]);
  });

  test('the depth of the first station is found again on the way up', () => {
    const path = wellPath([station(0, 88), station(100_000, 93)]);
    const found = path.mdsOfTvd(0);
    expect(found).toHaveLength(2);
    expect(found[0]?.fromMdMm).toBe(0);
    expect(found[1]?.fromMdMm).toBeCloseTo(80_000, 6);
  });

  test('the deepest point of a turn is one measured depth, and just below it there is none', () => {
    const path = wellPath([station(0, 88), station(100_000, 92)]);
    const { toTvdMm } = path.tvdRange();
    for (const found of [path.mdsOfTvd(toTvdMm), path.mdIntervalsOfTvd(toTvdMm, toTvdMm + 1000)]) {
      expect(found).toHaveLength(1);
      expect(found[0]?.fromMdMm).toBe(found[0]?.toMdMm);
      expect(found[0]?.fromMdMm).toBeCloseTo(50_000, 9);
    }
    expect(path.mdsOfTvd(toTvdMm + 1e-5)).toEqual([]);
  });

  test('a horizontal stretch, turning or not, is an interval and merges with its neighbours', () => {
    const stations = [station(0, 80), station(50_000, 90, 0), station(80_000, 90, 40), station(90_000, 90, 40)];
    const path = wellPath([...stations, station(120_000, 85, 40)]);
    const level = path.tvdAt(60_000);
    expect(path.tvdAt(90_000)).toBe(level);
    expect(path.mdsOfTvd(level)).toEqual([{ fromMdMm: 50_000, toMdMm: 90_000 }]);
    expect(path.mdIntervalsOfTvd(0, path.tvdRange().toTvdMm)).toEqual([{ fromMdMm: 0, toMdMm: 120_000 }]);
    expect(path.mdIntervalsOfTvd(level, level + 1)[0]?.fromMdMm).toBe(50_000);
  });

  test('a hole that levels out at a station and goes on down reaches that depth once', () => {
    const path = wellPath([station(0, 88), station(30_000, 90), station(60_000, 88)]);
    expect(path.mdsOfTvd(path.tvdAt(30_000))).toEqual([{ fromMdMm: 30_000, toMdMm: 30_000 }]);
  });

  test('a hole that starts horizontal is found from its first metre', () => {
    const path = wellPath([station(0, 90), station(30_000, 80)]);
    expect(path.mdsOfTvd(0)).toEqual([{ fromMdMm: 0, toMdMm: 0 }]);
    const [found] = path.mdsOfTvd(path.tvdAt(10));
    expect(found?.fromMdMm).toBeCloseTo(10, 4);
  });

  test('a hole that goes up all the way is found too', () => {
    const path = wellPath([station(0, 100), station(30_000, 120), station(60_000, 150)], {
      northMm: 0,
      eastMm: 0,
      tvdMm: 1_000_000,
    });
    for (const mdMm of [0, 1, 12_345, 30_000, 45_678, 60_000]) {
      const [found, ...others] = path.mdsOfTvd(path.tvdAt(mdMm));
      expect(others).toEqual([]);
      expect(found?.fromMdMm).toBeCloseTo(mdMm, 6);
    }
  });
});

describe('the explanation of a vertical depth', () => {
  const path = wellPath([station(0, 80, 10), station(30_000, 86, 14), station(60_000, 92, 14)]);

  test.each([0, 12_000, 30_000, 47_500, 60_000])('at %p mm it ends in the depth that is answered', (mdMm) => {
    const steps = path.explainTvd(mdMm);
    expect(steps).toHaveLength(4);
    expect(steps.at(-1)?.result.unit).toBe('mm');
    expect(steps.at(-1)?.result.value).toBe(path.tvdAt(mdMm));
  });

  test('the last step can be recomputed from the values it lists', () => {
    const step = path.explainTvd(47_500).at(-1);
    const [top, distance, upper, reached, ratio] = (step?.inputs ?? []).map(({ value }) => Number(value));
    const depth = top! + (distance! / 2) * (upper! + reached!) * ratio!;
    expect(depth).toBeCloseTo(path.tvdAt(47_500), 8);
    expect(distance).toBe(17_500);
  });

  test('the dogleg step names the two stations around the point', () => {
    const [dogleg] = path.explainTvd(47_500);
    expect(dogleg?.inputs.map(({ value }) => value)).toEqual([30_000, 86, 14, 60_000, 92, 14]);
    expect(dogleg?.result.value).toBeCloseTo((6 * Math.PI) / 180, 12);
  });
});
