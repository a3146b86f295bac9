import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { type MdInterval, type SurveyStation, type WellPath, wellPath } from '#libs/survey';
import { seedFromEnvironment } from '../setup/seed.js';
import { anyStations, crossingStations, fraction, tieIn } from './survey.arbitraries.js';

const anyPathStations = fc.oneof(anyStations, crossingStations);

function check<T extends unknown[]>(property: fc.IProperty<T>, numRuns = 300): void {
  fc.assert(property, { ...seedFromEnvironment(), numRuns });
}

function mdAt(path: WellPath, part: number): number {
  const { fromMdMm, toMdMm } = path.mdRange();
  return Math.min(fromMdMm + part * (toMdMm - fromMdMm), toMdMm);
}

function tvdAtPart(path: WellPath, part: number): number {
  const { fromTvdMm, toTvdMm } = path.tvdRange();
  return Math.min(fromTvdMm + part * (toTvdMm - fromTvdMm), toTvdMm);
}

function distanceTo(intervals: readonly MdInterval[], mdMm: number): number {
  return Math.min(...intervals.map(({ fromMdMm, toMdMm }) => Math.max(fromMdMm - mdMm, mdMm - toMdMm, 0)));
}

/**
 * Vertical depth by summing the downward part of the tangent, sample by sample (Simpson's rule), the tangent turned in
 * the plane of its two station tangents: neither the ratio factor nor the inversion of the library is used.
 */
function sampledDepths(stations: readonly SurveyStation[], samplesPerArc: number): { mdMm: number; tvdMm: number }[] {
  const samples = [{ mdMm: stations[0]!.mdMm, tvdMm: 0 }];
  for (const [index, lower] of stations.slice(1).entries()) {
    const upper = stations[index]!;
    const downward = downwardPart(upper, lower);
    const stepMm = (lower.mdMm - upper.mdMm) / samplesPerArc;
    for (let sample = 0; sample < samplesPerArc; sample += 1) {
      const at = (offset: number) => downward((sample + offset) / samplesPerArc);
      const tvdMm = samples.at(-1)!.tvdMm + (stepMm / 6) * (at(0) + 4 * at(0.5) + at(1));
      samples.push({ mdMm: upper.mdMm + (sample + 1) * stepMm, tvdMm });
    }
  }
  return samples;
}

function unitVector({ inclinationDeg, azimuthDeg }: SurveyStation): [number, number, number] {
  const [i, a] = [(inclinationDeg * Math.PI) / 180, (azimuthDeg * Math.PI) / 180];
  return [Math.sin(i) * Math.cos(a), Math.sin(i) * Math.sin(a), Math.cos(i)];
}

function downwardPart(upper: SurveyStation, lower: SurveyStation): (part: number) => number {
  const [u, v] = [unitVector(upper), unitVector(lower)];
  const cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
  const sine = Math.hypot(...cross);
  const cosine = u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
  const angle = Math.atan2(sine, cosine);
  const bend = sine === 0 ? 0 : (v[2] - u[2] * cosine) / sine;
  return (part) => u[2] * Math.cos(part * angle) + bend * Math.sin(part * angle);
}

describe('from vertical depth to measured depth and back', () => {
  test('every measured depth found for a vertical depth has that vertical depth', () => {
    check(
      fc.property(anyPathStations, tieIn, fraction, (stations, start, part) => {
        const path = wellPath(stations, start);
        const tvdMm = tvdAtPart(path, part);
        const found = path.mdsOfTvd(tvdMm);
        expect(found.length).toBeGreaterThan(0);
        for (const { fromMdMm, toMdMm } of found) {
          expect(Math.abs(path.tvdAt(fromMdMm) - tvdMm)).toBeLessThan(1e-6);
          expect(Math.abs(path.tvdAt(toMdMm) - tvdMm)).toBeLessThan(1e-6);
        }
      }),
    );
  });

  test('the measured depth a vertical depth was taken at is among those found for it', () => {
    check(
      fc.property(anyPathStations, fraction, (stations, part) => {
        const path = wellPath(stations);
        const mdMm = mdAt(path, part);
        const { tvdMm, inclinationDeg } = path.positionAt(mdMm);
        const slope = Math.abs(Math.cos((inclinationDeg * Math.PI) / 180));
        // Where the hole is all but level, a nanometre of depth is a stretch of hole: 1 mm is allowed there.
        expect(distanceTo(path.mdsOfTvd(tvdMm), mdMm)).toBeLessThanOrEqual(slope > 1e-3 ? 1e-4 : 2);
      }),
    );
  });

  test('the intervals of a partition of the vertical depths cover the whole path and nothing else', () => {
    check(
      fc.property(anyPathStations, fc.array(fraction, { maxLength: 8 }), (stations, parts) => {
        const path = wellPath(stations);
        const { fromTvdMm, toTvdMm } = path.tvdRange();
        const limits = [fromTvdMm, ...parts.map((part) => tvdAtPart(path, part)).sort((a, b) => a - b), toTvdMm];
        const intervals = limits.slice(1).flatMap((to, index) => path.mdIntervalsOfTvd(limits[index]!, to));
        intervals.sort((a, b) => a.fromMdMm - b.fromMdMm);
        let reached = path.mdRange().fromMdMm;
        expect(intervals[0]!.fromMdMm).toBe(reached);
        for (const { fromMdMm, toMdMm } of intervals) {
          expect(fromMdMm).toBeLessThanOrEqual(reached);
          reached = Math.max(reached, toMdMm);
        }
        expect(reached).toBe(path.mdRange().toMdMm);
      }),
    );
  });
});

describe('intervals of vertical depth on paths that cross horizontal', () => {
  test('they hold exactly the sampled points whose vertical depth lies between the limits', () => {
    check(
      fc.property(crossingStations, fraction, fraction, (stations, one, other) => {
        const path = wellPath(stations);
        const [fromTvdMm, toTvdMm] = [tvdAtPart(path, one), tvdAtPart(path, other)].sort((a, b) => a - b) as [number, number];
        const intervals = path.mdIntervalsOfTvd(fromTvdMm, toTvdMm);
        const slackMm = 1e-5;
        const wrong = sampledDepths(stations, 100).filter(({ mdMm, tvdMm }) => {
          const inside = distanceTo(intervals, mdMm) === 0;
          const surelyIn = tvdMm > fromTvdMm + slackMm && tvdMm < toTvdMm - slackMm;
          const surelyOut = tvdMm < fromTvdMm - slackMm || tvdMm > toTvdMm + slackMm;
          return (surelyIn && !inside) || (surelyOut && inside);
        });
        expect(wrong).toEqual([]);
      }),
      200,
    );
  });

  test('they are in order, apart, and end where the depth meets a limit or the path ends', () => {
    check(
      fc.property(crossingStations, fraction, fraction, (stations, one, other) => {
        const path = wellPath(stations);
        const [fromTvdMm, toTvdMm] = [tvdAtPart(path, one), tvdAtPart(path, other)].sort((a, b) => a - b) as [number, number];
        const { fromMdMm: top, toMdMm: bottom } = path.mdRange();
        let previousEnd = -Infinity;
        for (const { fromMdMm, toMdMm } of path.mdIntervalsOfTvd(fromTvdMm, toTvdMm)) {
          expect(fromMdMm).toBeGreaterThan(previousEnd);
          expect(toMdMm).toBeGreaterThanOrEqual(fromMdMm);
          previousEnd = toMdMm;
          for (const endMm of [fromMdMm, toMdMm].filter((mdMm) => mdMm !== top && mdMm !== bottom)) {
            const tvdMm = path.tvdAt(endMm);
            expect(Math.min(Math.abs(tvdMm - fromTvdMm), Math.abs(tvdMm - toTvdMm))).toBeLessThan(1e-6);
          }
        }
      }),
    );
  });

  test('the depth range is the range of the samples', () => {
    check(
      fc.property(crossingStations, (stations) => {
        const range = wellPath(stations).tvdRange();
        const depths = sampledDepths(stations, 100).map(({ tvdMm }) => tvdMm);
        // Between samples (at most 2 m apart) a turn of at most 40 degrees per 20 m can rise by less than 20 mm.
        expect(range.fromTvdMm).toBeLessThanOrEqual(Math.min(...depths) + 1e-5);
        expect(range.fromTvdMm).toBeGreaterThan(Math.min(...depths) - 20);
        expect(range.toTvdMm).toBeGreaterThanOrEqual(Math.max(...depths) - 1e-5);
        expect(range.toTvdMm).toBeLessThan(Math.max(...depths) + 20);
      }),
      100,
    );
  });
});

describe('positions', () => {
  test('vertical depth agrees with the sampled sum everywhere', () => {
    check(
      fc.property(anyStations, (stations) => {
        const path = wellPath(stations);
        const worst = sampledDepths(stations, 100).map(({ mdMm, tvdMm }) => {
          return Math.abs(path.tvdAt(Math.min(mdMm, path.mdRange().toMdMm)) - tvdMm);
        });
        expect(Math.max(...worst)).toBeLessThan(1e-3);
      }),
      100,
    );
  });

  test('position and direction are continuous at every station', () => {
    check(
      fc.property(anyPathStations, tieIn, (stations, start) => {
        const path = wellPath(stations, start);
        for (const { mdMm } of stations.slice(1, -1)) {
          const here = path.positionAt(mdMm);
          for (const near of [path.positionAt(mdMm - 1e-3), path.positionAt(mdMm + 1e-3)]) {
            const apart = [here.northMm - near.northMm, here.eastMm - near.eastMm, here.tvdMm - near.tvdMm];
            expect(Math.hypot(...apart)).toBeLessThan(1.1e-3);
            expect(Math.abs(here.inclinationDeg - near.inclinationDeg)).toBeLessThan(0.2);
          }
        }
      }),
    );
  });

  test('no two points are further apart than the hole between them is long', () => {
    check(
      fc.property(anyPathStations, fraction, fraction, (stations, one, other) => {
        const path = wellPath(stations);
        const [a, b] = [mdAt(path, one), mdAt(path, other)];
        const [p, q] = [path.positionAt(a), path.positionAt(b)];
        const apart = Math.hypot(p.northMm - q.northMm, p.eastMm - q.eastMm, p.tvdMm - q.tvdMm);
        expect(apart).toBeLessThanOrEqual(Math.abs(a - b) + 1e-6);
      }),
    );
  });

  test('turning every azimuth by the same angle leaves vertical depth and doglegs alone and turns the rest', () => {
    check(
      fc.property(anyPathStations, fc.integer({ min: 0, max: 359 }), fraction, (stations, angleDeg, part) => {
        const turned = stations.map((at) => ({ ...at, azimuthDeg: (at.azimuthDeg + angleDeg) % 360 }));
        const [path, other] = [wellPath(stations), wellPath(turned)];
        const mdMm = mdAt(path, part);
        const [before, after] = [path.positionAt(mdMm), other.positionAt(mdMm)];
        const angle = (angleDeg * Math.PI) / 180;
        expect(Math.abs(after.tvdMm - before.tvdMm)).toBeLessThan(1e-5);
        const north = before.northMm * Math.cos(angle) - before.eastMm * Math.sin(angle);
        const east = before.northMm * Math.sin(angle) + before.eastMm * Math.cos(angle);
        expect(Math.hypot(after.northMm - north, after.eastMm - east)).toBeLessThan(1e-5);
        for (const [index, { doglegDeg }] of other.stationPositions().entries()) {
          expect(Math.abs(doglegDeg - path.stationPositions()[index]!.doglegDeg)).toBeLessThan(1e-9);
        }
      }),
    );
  });
});
