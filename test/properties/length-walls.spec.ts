import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { IntervalSet } from '#libs/intervals';
import { LengthModel, type Wall } from '#libs/length';
import { aCutOut } from '../fixtures/string-lengths.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { hungStringArbitrary, partitionArbitrary, stringArbitrary } from './length.arbitraries.js';

const LAST_MM = 500_000;

function countedShoe(model: LengthModel, weldFootageMm: number) {
  return model.shoeAt({ weldFootageMm, atUs: weldFootageMm });
}

/** Both walls at the shoe, for one footage at the weld point. */
function wallsOf({ model, weldFootageMm }: { model: LengthModel; weldFootageMm: number }): Wall[] {
  const shoe = countedShoe(model, weldFootageMm);
  return [model.outerWall(shoe), model.innerWall(shoe)];
}

function sumOfLengths(spans: readonly { fromMm: number; toMm: number }[]): number {
  return spans.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
}

/** Disjoint, and together exactly the interval [fromMm, toMm). */
function expectPartitionOf(spans: readonly { fromMm: number; toMm: number }[], fromMm: number, toMm: number): void {
  const union = IntervalSet.from(spans);
  expect(sumOfLengths(spans)).toBe(toMm - fromMm);
  expect(union.intervals).toEqual(fromMm < toMm ? [{ fromMm, toMm }] : []);
}

describe('the two walls at a shoe', () => {
  test('pieces of a partition of footage make a partition of each wall, from hang-off to shoe', () => {
    fc.assert(
      fc.property(hungStringArbitrary(), partitionArbitrary(0, LAST_MM), (hung, partition) => {
        const shoe = countedShoe(hung.model, hung.weldFootageMm);
        for (const wall of wallsOf(hung)) {
          const depths = partition.flatMap((footage) => wall.piecesOfFootage(footage)).map(({ md }) => md);
          expectPartitionOf(depths, 2_500, Math.round(shoe.mdMm));
        }
      }),
      seedFromEnvironment(),
    );
  });

  test('pieces of a partition of depth make a partition of the pipe on the wall, less the cut-outs', () => {
    fc.assert(
      fc.property(hungStringArbitrary(), partitionArbitrary(0, LAST_MM), (hung, partition) => {
        const shoe = countedShoe(hung.model, hung.weldFootageMm);
        for (const wall of wallsOf(hung)) {
          const reached = partition.filter(({ fromMm, toMm }) => toMm > 2_500 && fromMm < Math.round(shoe.mdMm) && fromMm < shoe.mdMm);
          const footages = reached.flatMap((md) => wall.piecesAtDepth(md).pieces).map(({ footage }) => footage);
          const { fromMm, toMm } = wall.footageRange;
          const whole = { fromMm: Math.round(fromMm), toMm: Math.round(toMm) };
          const expected = whole.fromMm < whole.toMm ? IntervalSet.of(whole).subtract(hung.model.nets.removedBy(hung.weldFootageMm)) : IntervalSet.empty;
          expect(IntervalSet.from(footages).equals(expected)).toBe(true);
          expect(sumOfLengths(footages)).toBe(expected.totalLengthMm);
        }
      }),
      seedFromEnvironment(),
    );
  });

  test('footage → depth → footage comes back, on both walls', () => {
    fc.assert(
      fc.property(hungStringArbitrary(), fc.double({ min: 0, max: 0.999, noNaN: true }), (hung, part) => {
        for (const wall of wallsOf(hung)) {
          const { fromMm, toMm } = wall.footageRange;
          const footageMm = fromMm + part * (toMm - fromMm);
          if (hung.model.nets.findCutOut(footageMm, hung.weldFootageMm) !== null) continue;
          expect(wall.footageAt(wall.mdAt(footageMm).mdMm).footageMm).toBeCloseTo(footageMm, 4);
          expect(wall.footageToMd.at(footageMm)).toBeCloseTo(wall.mdAt(footageMm).mdMm, 4);
        }
      }),
      seedFromEnvironment(),
    );
  });

  test('footage is conserved: n(F) = n_h + x + D/λ + D, D/λ being the outer wall as pipe before the fold', () => {
    fc.assert(
      fc.property(hungStringArbitrary(), ({ model, weldFootageMm }) => {
        const shoe = countedShoe(model, weldFootageMm);
        const pathMm = model.hangOffPathAt(weldFootageMm).pathMm;
        const outerAsPipeMm = shoe.netMm - model.outer.hangOffNetMm;
        const weldNetMm = model.nets.at(weldFootageMm).at(weldFootageMm);
        expect(weldNetMm).toBeCloseTo(model.outer.hangOffNetMm + pathMm + outerAsPipeMm + shoe.depthBelowHangOffMm, 4);
        if (model.outer.knots.length === 1) {
          expect(outerAsPipeMm).toBeCloseTo(shoe.depthBelowHangOffMm / model.lengths.defaultRatio.lambda, 4);
        }
      }),
      seedFromEnvironment(),
    );
  });

  test('trimming the lead end, above the hang-off, at any time moves nothing that hangs', () => {
    const trim = fc.record({ fromMm: fc.integer({ min: 0, max: 1_000 }), lengthMm: fc.integer({ min: 1, max: 999 }), atUs: fc.integer({ min: 2_000, max: 500_000 }) });
    fc.assert(
      fc.property(hungStringArbitrary(), trim, ({ model, weldFootageMm }, { fromMm, lengthMm, atUs }) => {
        const cutOuts = [...model.lengths.cutOuts, aCutOut(fromMm, fromMm + lengthMm, atUs)];
        const trimmed = wallsOf({ model: new LengthModel({ ...model.lengths, cutOuts }), weldFootageMm });
        const whole = { fromMm: 0, toMm: LAST_MM };
        const positions = (walls: Wall[]) => walls.flatMap((wall) => wall.piecesOfFootage(whole)).map(({ footage, md }) => ({ footage, md }));
        expect(positions(trimmed)).toEqual(positions(wallsOf({ model, weldFootageMm })));
      }),
      seedFromEnvironment(),
    );
  });

  test('at a tie the counter finds the shoe where the tie saw it', () => {
    fc.assert(
      fc.property(stringArbitrary(), (lengths) => {
        const model = new LengthModel(lengths);
        for (const { weldFootageMm, shoeMdMm } of lengths.shoeTies) {
          expect(countedShoe(model, weldFootageMm).mdMm).toBeCloseTo(shoeMdMm, 4);
        }
      }),
      seedFromEnvironment(),
    );
  });
});

describe('the uncertainty of the outer wall', () => {
  test('is, between two known points, nowhere less than at the better of them', () => {
    fc.assert(
      fc.property(stringArbitrary(), fc.double({ min: 0, max: 1, noNaN: true }), (lengths, part) => {
        const { outer } = new LengthModel(lengths);
        outer.knots.slice(1).forEach((after, index) => {
          const before = outer.knots[index]!;
          const netMm = before.netMm + part * (after.netMm - before.netMm);
          expect(outer.uAt(netMm)).toBeGreaterThanOrEqual(Math.min(before.uMm, after.uMm) - 1e-9);
        });
      }),
      seedFromEnvironment(),
    );
  });

  test('grows with the distance past the last known point, and starts there at that point’s own', () => {
    fc.assert(
      fc.property(stringArbitrary(), fc.integer({ min: 0, max: 500_000 }), fc.integer({ min: 1, max: 10_000 }), (lengths, distanceMm, stepMm) => {
        const { outer } = new LengthModel(lengths);
        const last = outer.knots.at(-1)!;
        expect(outer.uAt(last.netMm)).toBeCloseTo(last.uMm, 9);
        expect(outer.uAt(last.netMm + distanceMm + stepMm)).toBeGreaterThan(outer.uAt(last.netMm + distanceMm));
      }),
      seedFromEnvironment(),
    );
  });
});
