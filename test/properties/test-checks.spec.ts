import { describe, expect, test } from '@jest/globals';
import fc, { type Arbitrary } from 'fast-check';
import { checkFaults, checkFindings } from '../../apps/api/src/destructive-tests/destructive-test.rules.js';
import { testChecks, type TestCheck } from '../../apps/api/src/destructive-tests/test-checks.js';
import { testContentFaults, type TestContent } from '../../apps/api/src/destructive-tests/test-content.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { plainFlaring, plainFlattening, type PlainFlaring, type PlainFlattening } from './test-checks.reference.js';

const NOTHING: TestContent = { flattening: null, flaring: null, reverseBend: null, reverseFlattening: null };
const orNot = <T>(arbitrary: Arbitrary<T>): Arbitrary<T | null> => fc.option(arbitrary, { freq: 4 });
const text = (hundredths: number): string => `${Math.floor(hundredths / 100)}.${String(hundredths % 100).padStart(2, '0')}`;
const textOrNot = (hundredths: number | null): string | null => (hundredths === null ? null : text(hundredths));
/** Hundredths in a range, and often one of the edges of what is demanded, or beside it. */
const near = (min: number, max: number, ...edges: number[]): Arbitrary<number> => {
  const beside = edges.flatMap((edge) => [edge - 1, edge, edge + 1]).filter((value) => value >= min && value <= max);
  return beside.length === 0 ? fc.integer({ min, max }) : fc.oneof(fc.integer({ min, max }), fc.constantFrom(...beside));
};

const tubes = near(2_000, 70_000, 60_000).chain((diameter) => near(100, Math.floor((diameter - 1) / 2), Math.floor(diameter * 0.15)).map((wall) => ({ diameter, wall })));

const flattenings: Arbitrary<PlainFlattening> = tubes.chain(({ diameter, wall }) => orNot(fc.integer({ min: 1, max: 30 })).chain((constant) => {
  const height = constant === null ? wall + 1 : Math.floor(((100 + constant) * wall * diameter) / (constant * diameter + 100 * wall));
  return fc.record({
    diameter: fc.constant(diameter), wall: fc.constant(wall), constant: fc.constant(constant), piece: orNot(near(100, 20_000, 1_000, 10_000)),
    plate: orNot(near(100, 200_000, Math.floor(diameter * 1.6))), distance: orNot(near(wall + 1, diameter, height)),
    cracks: orNot(fc.array(fc.record({ length: near(1, 1_000, 320, 640), atEdge: fc.boolean() }), { maxLength: 3 })),
  });
}));

const flarings: Arbitrary<PlainFlaring & { wall: number }> = tubes.chain(({ diameter, wall }) => orNot(fc.integer({ min: 1, max: 60 })).chain((percent) => fc.record({
  diameter: fc.constant(diameter), wall: fc.constant(wall), percent: fc.constant(percent), piece: orNot(near(100, 200_000, 5_000, Math.floor(diameter * 1.5))),
  cone: orNot(fc.constantFrom(30, 45, 59, 60, 61)), flared: orNot(near(diameter, diameter * 2, Math.floor((diameter * (100 + (percent ?? 0))) / 100))), isCracked: orNot(fc.boolean()),
})));

const flatteningOf = ({ diameter, wall, piece, plate, distance, constant, cracks }: PlainFlattening): TestContent => ({
  ...NOTHING,
  flattening: {
    outsideDiameterMm: text(diameter), wallThicknessMm: text(wall), flattenedOn: 'piece', pieceLengthMm: textOrNot(piece), cutDepthMm: null, plateWidthMm: textOrNot(plate),
    plateDistanceMm: textOrNot(distance), seamPositionDeg: null, constant: constant === null ? null : { constant: text(constant), steel: 'S420MC', source: 'clause' },
    cracks: cracks?.map(({ length, atEdge }) => ({ length: text(length), unit: 'mm' as const, place: atEdge ? 'edge' as const : 'elsewhere' as const })) ?? null,
  },
});

const flaringOf = ({ diameter, wall, piece, cone, flared, percent, isCracked }: PlainFlaring & { wall: number }): TestContent => ({
  ...NOTHING,
  flaring: {
    outsideDiameterMm: text(diameter), wallThicknessMm: text(wall), pieceLengthMm: textOrNot(piece), coneAngleDeg: cone === null ? null : String(cone), flaredDiameterMm: textOrNot(flared),
    isCracked, requiredExpansion: percent === null ? null : { percent: String(percent), appliesTo: 'S420MC', source: 'clause' }, grade: null,
  },
});

const outcomes = (checks: readonly TestCheck[]): Record<string, string> => Object.fromEntries(checks.map(({ name, outcome }) => [name, outcome]));

describe('the checks of a test', () => {
  const runs = { numRuns: 500, ...seedFromEnvironment() };

  test('are those of the reference, every one of them, whatever is recorded and whatever is not', () => {
    const seen = new Set<string>();
    fc.assert(fc.property(flattenings, (plain) => {
      const content = flatteningOf(plain);
      expect(testContentFaults('flattening', content)).toEqual([]);
      const found = outcomes(testChecks('flattening', content));
      for (const [name, outcome] of Object.entries(found)) seen.add(`${name} ${outcome}`);
      expect(found).toEqual(plainFlattening(plain));
    }), runs);
    fc.assert(fc.property(flarings, (plain) => {
      const content = flaringOf(plain);
      expect(testContentFaults('flaring', content)).toEqual([]);
      const found = outcomes(testChecks('flaring', content));
      for (const [name, outcome] of Object.entries(found)) seen.add(`flared: ${name} ${outcome}`);
      expect(found).toEqual(plainFlaring(plain));
    }), runs);
    // Met and not met of nine checks and the diameter and the wall; not computable of all but those two.
    expect([...seen].filter((one) => one.endsWith(' met')).length).toBe(20);
    expect([...seen].filter((one) => one.endsWith('not computable')).length).toBe(9);
  });

  test('refuse a pass beside a limit of the record alone, mark whatever else is not met, and only note it of a void test', () => {
    fc.assert(fc.property(fc.oneof(flattenings.map(flatteningOf), flarings.map(flaringOf)), (content) => {
      const kind = content.flattening === null ? 'flaring' : 'flattening';
      const checks = testChecks(kind, content);
      const unmet = checks.filter(({ outcome }) => outcome === 'not met');
      const own = unmet.filter(({ name }) => name === 'plate distance' || name.startsWith('expansion'));
      expect(checkFaults('pass', checks).map(({ field }) => field)).toEqual(own.map(({ field }) => field));
      expect([checkFaults('fail', checks), checkFaults('void', checks)]).toEqual([[], []]);
      expect(checkFindings('fail', checks).map(({ tier, field }) => [tier, field])).toEqual(unmet.map(({ field }) => ['out-of-specification', field]));
      expect(checkFindings('void', checks).every(({ tier }) => tier === 'noted')).toBe(true);
    }), runs);
  });
});
