import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { IntervalSet, type Interval } from '#libs/intervals';
import { collapse, RATING_NAMES, ratingProfile, wallRatings, type PipeInputs, type RatingName, type StretchInputs } from '#libs/ratings';
import { pipeInputs } from '../../libs/ratings/rating.factory.js';
import { seedFromEnvironment } from '../setup/seed.js';

type Numbers = Readonly<Record<'diameter' | 'wall' | 'yieldMpa' | 'kappa' | 'lambda', number>>;

/** Pipe from thick to thin, weak to strong: all four regimes, in hundredths of its numbers. */
const numbers: fc.Arbitrary<Numbers> = fc.record({
  diameter: fc.integer({ min: 6000, max: 60_000 }), wall: fc.integer({ min: 150, max: 1500 }), yieldMpa: fc.integer({ min: 27_600, max: 103_400 }),
  kappa: fc.integer({ min: 100, max: 140 }), lambda: fc.integer({ min: 85, max: 115 }),
});

const hundredths = (value: number): string => (value / 100).toFixed(2);

function inputsOf({ diameter, wall, yieldMpa, kappa, lambda }: Numbers, basis: 'nominal' | 'measured minimum' = 'nominal'): PipeInputs {
  return pipeInputs({
    outsideDiameterMm: { value: hundredths(diameter), record: null }, wallThicknessMm: { value: hundredths(wall), record: null, basis },
    yieldMpa: { value: hundredths(yieldMpa), record: null, basis: 'certified' }, kappa: { value: hundredths(kappa), record: null },
    lambda: { value: hundredths(lambda), record: null, basis: 'between ties' },
  });
}

const pressureOf = (wall: 'inner' | 'outer', name: RatingName, inputs: PipeInputs): number => {
  const rating = wallRatings(wall, inputs)[name];
  if (rating.kind !== 'computed') throw new Error(rating.because);
  return rating.pressureMpa;
};

/** Rounding of doubles where two formulas meet. */
const ALMOST = 1 - 1e-12;

describe('ratings', () => {
  test.each(['inner', 'outer'] as const)('of the %s wall: a thinner wall never rates higher, a higher yield strength or a smaller λ never lower', (wall) => {
    const regimes = new Set<string>();
    fc.assert(
      fc.property(numbers, fc.integer({ min: 1, max: 200 }), fc.constantFrom('nominal' as const, 'measured minimum' as const), (pipe, step, basis) => {
        const found = wallRatings(wall, inputsOf(pipe, basis)).collapse;
        if (found.kind === 'computed') regimes.add(found.regime);
        for (const name of RATING_NAMES) {
          const rated = pressureOf(wall, name, inputsOf(pipe, basis));
          const thinner = pressureOf(wall, name, inputsOf({ ...pipe, wall: Math.max(100, pipe.wall - step) }, basis));
          const stronger = pressureOf(wall, name, inputsOf({ ...pipe, yieldMpa: Math.min(103_400, pipe.yieldMpa + step * 50) }, basis));
          const shorter = pressureOf(wall, name, inputsOf({ ...pipe, lambda: pipe.lambda - Math.min(step, 50) }, basis));
          expect(thinner).toBeLessThanOrEqual(rated);
          expect(stronger).toBeGreaterThanOrEqual(rated * ALMOST);
          expect(shorter).toBeGreaterThanOrEqual(rated);
        }
      }),
      { numRuns: 300, seed: 20261125 },
    );
    expect(regimes).toEqual(new Set(['yield', 'plastic', 'transition', 'elastic']));
  });

  test('the outer wall never rates higher than the pipe it was folded from, while the fold widens it and does not shorten it', () => {
    fc.assert(
      fc.property(numbers, (pipe) => {
        const inputs = inputsOf({ ...pipe, lambda: Math.max(100, pipe.lambda) });
        for (const name of RATING_NAMES) expect(pressureOf('outer', name, inputs)).toBeLessThanOrEqual(pressureOf('inner', name, inputs) / ALMOST);
      }),
      seedFromEnvironment(),
    );
  });

  test('collapse has no jump: a step of D/t of a hundred-thousandth never moves it by more than four of them', () => {
    fc.assert(
      fc.property(fc.double({ min: 40_000, max: 150_000, noNaN: true }), fc.double({ min: 5, max: 70, noNaN: true }), (yieldPsi, x) => {
        const limits = Object.values(collapse(yieldPsi, x).limits) as number[];
        for (const at of [x, ...limits]) {
          const [before, after] = [at * (1 - 5e-6), at * (1 + 5e-6)].map((dOverT) => collapse(yieldPsi, dOverT).pressurePsi) as [number, number];
          expect(after).toBeLessThanOrEqual(before);
          expect(1 - after / before).toBeLessThan(4e-5);
        }
      }),
      seedFromEnvironment(),
    );
  });
});

/** Stretches without overlap, some without a wall or a yield strength, some beyond the question. */
const stretches: fc.Arbitrary<StretchInputs[]> = fc
  .array(fc.record({ gapMm: fc.integer({ min: 0, max: 5 }), lengthMm: fc.integer({ min: 1, max: 9 }), wall: fc.constantFrom('10.00', '10.01', '10.02', '12.00'), lacks: fc.constantFrom('', '', '', 'wallThicknessMm', 'yieldMpa') }), { maxLength: 12 })
  .map((drawn) => {
    let reached = 0;
    return drawn.map(({ gapMm, lengthMm, wall, lacks }, index) => {
      const stretch: Interval = { fromMm: reached + gapMm, toMm: reached + gapMm + lengthMm };
      reached = stretch.toMm;
      const inputs = pipeInputs({ wallThicknessMm: { value: wall, record: { kind: 'inspections', id: String(index), version: 1 }, basis: 'measured minimum' } });
      return { interval: stretch, inputs: lacks === '' ? inputs : { ...inputs, [lacks]: null } };
    });
  });
const question = fc.array(fc.record({ fromMm: fc.integer({ min: 0, max: 80 }), lengthMm: fc.integer({ min: 1, max: 40 }) }), { maxLength: 3 })
  .map((drawn) => IntervalSet.from(drawn.map(({ fromMm, lengthMm }) => ({ fromMm, toMm: fromMm + lengthMm }))));

describe('a rating profile', () => {
  test('is that of every millimetre for itself', () => {
    fc.assert(
      fc.property(stretches, question, fc.constantFrom('inner' as const, 'outer' as const), (given, asked, wall) => {
        const { intervals, summary } = ratingProfile(wall, asked, [...given].reverse());
        const cells = Array.from({ length: 200 }, (_, atMm) => atMm).filter((atMm) => asked.contains(atMm));
        const alone = cells.map((atMm) => ({ atMm, stretch: given.find(({ interval: { fromMm, toMm } }) => fromMm <= atMm && atMm < toMm) }));
        expect(IntervalSet.from(intervals.map((one) => one.interval)).equals(asked)).toBe(true);
        for (const name of RATING_NAMES) {
          const pressures = alone.map(({ atMm, stretch }) => {
            const rating = stretch === undefined ? null : wallRatings(wall, stretch.inputs)[name];
            return { atMm, stretch, mpa: rating?.kind === 'computed' ? rating.pressureMpa : null };
          });
          const lowest = Math.min(...pressures.map(({ mpa }) => mpa ?? Infinity));
          const { weakest, unrated } = summary[name];
          expect(weakest?.pressureMpa ?? Infinity).toBe(lowest);
          expect(cells.filter((atMm) => unrated.contains(atMm))).toEqual(pressures.filter(({ mpa }) => mpa === null).map(({ atMm }) => atMm));
          expect(cells.filter((atMm) => weakest?.where.contains(atMm))).toEqual(pressures.filter(({ mpa }) => mpa === lowest).map(({ atMm }) => atMm));
          const records = new Set(pressures.filter(({ mpa }) => mpa === lowest).map(({ stretch }) => stretch?.inputs.wallThicknessMm?.record?.id));
          expect(new Set(weakest?.restsOn.filter(({ input }) => input === 'wallThicknessMm').map(({ record }) => record?.id))).toEqual(records);
        }
      }),
      seedFromEnvironment(),
    );
  });
});
