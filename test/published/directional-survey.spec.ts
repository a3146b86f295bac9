import { readFileSync } from 'node:fs';
import { describe, expect, test } from '@jest/globals';
import { type StationPosition, type WellPath, wellPath } from '#libs/survey';

const MM_PER_M = 1000;
const MM_PER_FT = 304.8;

interface Place {
  N?: number;
  E?: number;
  TVD?: number;
}

interface ListedStation extends Place {
  MD_m: number;
  inc_deg: number;
  azi_deg: number;
}

interface Listing {
  MD_m?: number[];
  MD_ft?: number[];
  inc_deg: number[];
  azi_deg: number[];
  start?: Place;
  section_azimuth_deg?: number;
}

interface ArcQuestion {
  station_1: ListedStation;
  station_2: ListedStation;
  MD_wanted_m?: number[];
  TVD_wanted_m?: number[];
}

interface Expected {
  name: string;
  value: number | number[];
  printed_decimals: number;
  unit: string;
  tolerance?: number;
}

interface PublishedCase {
  id: string;
  title: string;
  source: string;
  inputs: Listing | ArcQuestion;
  expected: Expected[];
}

interface Computed {
  path: WellPath;
  mmPerUnit: number;
  sectionAzimuthDeg: number;
}

const fixture = new URL('../fixtures/trade/06-directional-survey.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(fixture, 'utf8')) as { cases: PublishedCase[] };

/** Every case this file handles, by the way it is computed: a case added to the data must be put here. */
const LISTINGS = new Set([
  'mincurv-web-single',
  'mincurv-library-regression',
  'iscwsa-reference-well',
  'iscwsa-01',
  'iscwsa-03',
  'iscwsa-05',
  'iscwsa-08',
  'iscwsa-reference-well-high-inc-start',
  'iscwsa-03-high-inc-start',
  'iscwsa-03-well-mid',
  'survey-well9',
  'survey-projected-to-td',
  'forge-7225-7320',
  'forge-8181-8466',
  'forge-10124-10411',
  'forge-10411-10604',
  'edge-straight-inclined',
  'edge-north-crossing',
  'edge-quarter-circle',
  'edge-past-horizontal',
]);
const INTERPOLATIONS = new Set(['interp-reference-well', 'interp-03', 'interp-04-horizontal-turn']);
const INVERSIONS = new Set(['tvd-to-md-reference-well']);

function tieInMm(place: Place, mmPerUnit: number) {
  return {
    northMm: (place.N ?? 0) * mmPerUnit,
    eastMm: (place.E ?? 0) * mmPerUnit,
    tvdMm: (place.TVD ?? 0) * mmPerUnit,
  };
}

function computeListing(inputs: Listing): Computed {
  const mmPerUnit = inputs.MD_ft === undefined ? MM_PER_M : MM_PER_FT;
  const depths = inputs.MD_ft ?? inputs.MD_m ?? [];
  const stations = depths.map((depth, index) => ({
    mdMm: depth * mmPerUnit,
    inclinationDeg: inputs.inc_deg[index]!,
    azimuthDeg: inputs.azi_deg[index]!,
  }));
  const path = wellPath(stations, tieInMm(inputs.start ?? {}, mmPerUnit));
  return { path, mmPerUnit, sectionAzimuthDeg: inputs.section_azimuth_deg ?? 0 };
}

function computeArc({ station_1, station_2 }: ArcQuestion): WellPath {
  const stations = [station_1, station_2].map(({ MD_m, inc_deg, azi_deg }) => ({
    mdMm: MD_m * MM_PER_M,
    inclinationDeg: inc_deg,
    azimuthDeg: azi_deg,
  }));
  return wellPath(stations, tieInMm(station_1, MM_PER_M));
}

/** The dogleg severity over the course length the unit names (30 m or 100 ft). */
function severity(station: StationPosition, unit: string): number {
  const courseMm = { 'deg/30 m': 30 * MM_PER_M, 'deg/100 ft': 100 * MM_PER_FT }[unit];
  if (courseMm === undefined) {
    throw new Error(`No course length is known for ${unit}`);
  }
  return (station.doglegSeverityDegPer30M * courseMm) / (30 * MM_PER_M);
}

function listed({ path, mmPerUnit, sectionAzimuthDeg }: Computed, { name, unit }: Expected): number[] {
  const stations = path.stationPositions();
  const below = stations.slice(1);
  switch (name) {
    case 'TVD':
      return stations.map(({ tvdMm }) => tvdMm / mmPerUnit);
    case 'N':
      return stations.map(({ northMm }) => northMm / mmPerUnit);
    case 'E':
      return stations.map(({ eastMm }) => eastMm / mmPerUnit);
    case 'dTVD':
      return below.map(({ tvdMm }) => tvdMm / mmPerUnit);
    case 'dN':
      return below.map(({ northMm }) => northMm / mmPerUnit);
    case 'dE':
      return below.map(({ eastMm }) => eastMm / mmPerUnit);
    case 'dogleg':
      return below.map(({ doglegDeg }) => doglegDeg);
    case 'dogleg_rad':
      return below.map(({ doglegDeg }) => (doglegDeg * Math.PI) / 180);
    case 'DLS':
      return stations.map((station) => severity(station, unit));
    case 'DLS_from_second_station':
      return below.map((station) => severity(station, unit));
    case 'vertical_section':
      return path.verticalSection(sectionAzimuthDeg).map(({ sectionMm }) => sectionMm / mmPerUnit);
    default:
      throw new Error(`Nothing computes ${name} of a listing`);
  }
}

function interpolated(path: WellPath, depths: readonly number[], name: string): number[] {
  const places = depths.map((depth) => path.positionAt(depth * MM_PER_M));
  switch (name) {
    case 'TVD':
      return places.map(({ tvdMm }) => tvdMm / MM_PER_M);
    case 'N':
      return places.map(({ northMm }) => northMm / MM_PER_M);
    case 'E':
      return places.map(({ eastMm }) => eastMm / MM_PER_M);
    case 'inc':
      return places.map(({ inclinationDeg }) => inclinationDeg);
    case 'azi':
      return places.map(({ azimuthDeg }) => azimuthDeg);
    default:
      throw new Error(`Nothing interpolates ${name}`);
  }
}

/** The one measured depth (m) of a vertical depth; a second one would be an error for these cases. */
function onlyMd(path: WellPath, tvdM: number): number {
  const found = path.mdsOfTvd(tvdM * MM_PER_M);
  expect(found).toHaveLength(1);
  expect(found[0]!.fromMdMm).toBe(found[0]!.toMdMm);
  return found[0]!.fromMdMm / MM_PER_M;
}

function answersOf({ id, inputs }: PublishedCase): (expected: Expected) => number[] {
  if (LISTINGS.has(id) && 'inc_deg' in inputs) {
    const computed = computeListing(inputs);
    return (expected) => listed(computed, expected);
  }
  if (INTERPOLATIONS.has(id) && 'station_1' in inputs) {
    const path = computeArc(inputs);
    return ({ name }) => interpolated(path, inputs.MD_wanted_m!, name);
  }
  if (INVERSIONS.has(id) && 'station_1' in inputs) {
    const path = computeArc(inputs);
    return () => inputs.TVD_wanted_m!.map((tvd) => onlyMd(path, tvd));
  }
  throw new Error(`The published case ${id} is not handled`);
}

/** Half a unit of the last printed place unless the data states a tolerance. */
function toleranceOf({ tolerance, printed_decimals }: Expected): number {
  return tolerance ?? 0.5 * 10 ** -printed_decimals;
}

describe('directional surveys against published values', () => {
  test('the data holds exactly the cases this file handles', () => {
    const handled = [...LISTINGS, ...INTERPOLATIONS, ...INVERSIONS];
    expect(cases.map(({ id }) => id).sort()).toEqual(handled.sort());
  });

  test.each(cases.map((published): [string, PublishedCase] => [nameOf(published), published]))('%s', (_name, published) => {
    const answer = answersOf(published);
    expect(published.expected.length).toBeGreaterThan(0);
    for (const expected of published.expected) {
      const printed = [expected.value].flat();
      const computed = answer(expected);
      const tolerance = toleranceOf(expected);
      expect(computed).toHaveLength(printed.length);
      const misses = printed.flatMap((value, index) =>
        Math.abs(computed[index]! - value) <= tolerance ? [] : [{ index, printed: value, computed: computed[index] }],
      );
      expect({ name: expected.name, misses }).toEqual({ name: expected.name, misses: [] });
    }
  });
});

function nameOf({ id, title, source }: PublishedCase): string {
  return `${id}: ${title} [${source}]`.replaceAll('%', '%%');
}
