import fc from 'fast-check';
import { LengthModel, NetLengths, PiecewiseLinearMap, type CutOut, type ShoeTie, type StringLengths } from '#libs/length';
import { aCutOut, aHangOff, aString, aTie, recordRef } from '../fixtures/string-lengths.js';

const HANG_OFF_FOOTAGE_MM = 2_000;

/** A strictly monotone map, rising or falling, knots some millimetres to kilometres apart, slopes 0.2–3. */
export function strictMapArbitrary(): fc.Arbitrary<PiecewiseLinearMap> {
  const slope = fc.integer({ min: 200, max: 3_000 }).map((thousandths) => thousandths / 1_000);
  const origin = fc.integer({ min: -10_000, max: 10_000 });
  const pieces = fc.array(fc.record({ runMm: fc.integer({ min: 1, max: 1_000_000 }), slope }), { maxLength: 8 });
  return fc
    .record({ x: origin, y: origin, pieces, before: slope, after: slope, sign: fc.constantFrom(1, -1) })
    .map(({ x, y, pieces: steps, before, after, sign }) => {
      const knots = [{ x, y }];
      for (const { runMm, slope: rise } of steps) {
        const last = knots[knots.length - 1]!;
        knots.push({ x: last.x + runMm, y: last.y + sign * rise * runMm });
      }
      return PiecewiseLinearMap.through(knots, { before: sign * before, after: sign * after });
    });
}

/** Disjoint cut-outs past the hang-off's footage, each made while it was on the line; the clock is the counter. */
export function cutOutsArbitrary(): fc.Arbitrary<CutOut[]> {
  const step = fc.record({
    gapMm: fc.integer({ min: 0, max: 40_000 }),
    lengthMm: fc.integer({ min: 1, max: 1_500 }),
    laterMm: fc.integer({ min: 0, max: 10_000 }),
  });
  return fc.array(step, { maxLength: 6 }).map((steps) => {
    let footageMm = HANG_OFF_FOOTAGE_MM + 1;
    return steps.map(({ gapMm, lengthMm, laterMm }) => {
      const fromMm = footageMm + gapMm;
      footageMm = fromMm + lengthMm;
      return aCutOut(fromMm, footageMm, footageMm + laterMm);
    });
  });
}

/** Ties that rise in n and in depth, with local ratios from 0.8 to 1.2; the clock is the counter. */
function tiesFor(cutOuts: CutOut[], pathMm: number, steps: readonly { runMm: number; lambda: number }[]): ShoeTie[] {
  const nets = new NetLengths(cutOuts);
  const ties: ShoeTie[] = [];
  let weldMm = HANG_OFF_FOOTAGE_MM + pathMm;
  let weldNetMm = weldMm;
  let shoeMdMm = 2_500;
  for (const { runMm, lambda } of steps) {
    weldMm += runMm;
    const gainMm = nets.at(weldMm).at(weldMm) - weldNetMm;
    if (gainMm <= 0) continue;
    weldNetMm += gainMm;
    shoeMdMm += (gainMm * lambda) / (1 + lambda);
    ties.push(aTie(weldMm, weldMm, shoeMdMm, 50));
  }
  return ties;
}

/** A consistent string with cut-outs, ties, a default ratio from 0.8 to 1.2 and uncertainties. */
export function stringArbitrary(): fc.Arbitrary<StringLengths> {
  const lambda = fc.integer({ min: 800, max: 1_200 }).map((thousandths) => thousandths / 1_000);
  const tieStep = fc.record({ runMm: fc.integer({ min: 2_000, max: 60_000 }), lambda });
  return fc
    .record({ cutOuts: cutOutsArbitrary(), pathMm: fc.integer({ min: 12_000, max: 40_000 }), steps: fc.array(tieStep, { maxLength: 5 }), lambda })
    .map(({ cutOuts, pathMm, steps, lambda: defaultLambda }) =>
      aString({
        cutOuts,
        hangOff: aHangOff({ footageMm: HANG_OFF_FOOTAGE_MM, atUs: HANG_OFF_FOOTAGE_MM + pathMm, uFootageMm: 20, uMdMm: 10 }),
        hangOffPath: [{ record: recordRef('line-set-up', 'set-up'), validFromUs: 0, pathMm, uPathMm: 15 }],
        defaultRatio: { record: null, lambda: defaultLambda, u: 0.01 },
        shoeTies: tiesFor(cutOuts, pathMm, steps),
        scaleRelativeU: 0.001,
      }),
    );
}

/** A string with a footage at the weld point at which no cut-out has just shortened the pipe to above the hang-off. */
export function hungStringArbitrary(): fc.Arbitrary<{ model: LengthModel; weldFootageMm: number }> {
  return fc.record({ lengths: stringArbitrary(), runMm: fc.integer({ min: 20_000, max: 400_000 }) }).map(({ lengths, runMm }) => ({
    model: new LengthModel(lengths),
    weldFootageMm: HANG_OFF_FOOTAGE_MM + lengths.hangOffPath[0]!.pathMm + runMm,
  }));
}

/** A partition of [fromMm, toMm) into consecutive intervals, some of 1 mm. */
export function partitionArbitrary(fromMm: number, toMm: number): fc.Arbitrary<{ fromMm: number; toMm: number }[]> {
  const inner = fc.integer({ min: fromMm + 1, max: toMm - 1 });
  return fc.array(inner, { maxLength: 30 }).map((points) => {
    const bounds = [...new Set([fromMm, toMm, ...points, ...points.map((point) => Math.min(point + 1, toMm))])].sort((a, b) => a - b);
    return bounds.slice(1).map((bound, index) => ({ fromMm: bounds[index]!, toMm: bound }));
  });
}
