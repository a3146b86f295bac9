import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { IntervalSet, type Interval } from '#libs/intervals';
import { cutPipe, type Cutting, type PipeInputs, type PipeKnowledge, type Standing, type StretchInputs } from '#libs/ratings';
import { recordOf } from '../../libs/ratings/rating.factory.js';
import { seedFromEnvironment } from '../setup/seed.js';

const LONGEST_MM = 120;

const stretch: fc.Arbitrary<Interval> = fc.tuple(fc.nat(LONGEST_MM - 1), fc.integer({ min: 1, max: 40 })).map(([fromMm, length]) => ({ fromMm, toMm: Math.min(fromMm + length, LONGEST_MM) }));
const tenths = (min: number, max: number): fc.Arbitrary<string> => fc.integer({ min, max }).map((value) => (value / 10).toFixed(1));
const standing = <T>(of: fc.Arbitrary<T>, most: number): fc.Arbitrary<Standing<T>[]> => fc.array(fc.record({ interval: stretch, of }), { maxLength: most });
const given = (min: number, max: number) => fc.record({ value: tenths(min, max), record: fc.constantFrom(recordOf('a', '1'), recordOf('b', '2')) });

const cutting: fc.Arbitrary<Cutting> = fc.record({
  pipe: fc.array(stretch, { minLength: 1, maxLength: 3 }).map((all) => IntervalSet.from(all)), cutsMm: fc.array(fc.nat(LONGEST_MM), { maxLength: 4 }), windowMm: fc.integer({ min: 1, max: 50 }),
});
const fold = fc.record({
  kappa: fc.option(given(10, 12), { nil: null }), lambda: given(9, 11).map((one) => ({ ...one, basis: 'between ties' as const })),
});
/** Folds lie side by side, as depth pieces do. */
const folds: fc.Arbitrary<PipeKnowledge['folds']> = fc.tuple(fc.nat(LONGEST_MM), fold, fold).map(([at, one, other]) => [
  ...(at === 0 ? [] : [{ interval: { fromMm: 0, toMm: at }, of: one }]), ...(at === LONGEST_MM ? [] : [{ interval: { fromMm: at, toMm: LONGEST_MM }, of: other }]),
]);
const knowledge: fc.Arbitrary<PipeKnowledge> = fc.record({
  nominalDiameterMm: fc.option(given(1200, 1300), { nil: null }), diameters: standing(given(1200, 1300), 4),
  walls: standing(given(40, 60).map((one) => ({ ...one, basis: 'measured minimum' as const })), 6),
  yields: standing(given(4000, 4040).map((one) => ({ ...one, basis: 'tested' as const })), 4), folds,
  reasons: standing(fc.constantFrom({ wallThicknessMm: 'w1' }, { wallThicknessMm: 'w2', yieldMpa: 'y' }, { kappa: 'k' }), 3),
});

const holds = ({ fromMm, toMm }: Interval, mm: number): boolean => mm >= fromMm && mm < toMm;

/** What counts at one millimetre, worked out for it alone: no sets, no sorting of intervals, no merging. */
function walked(mm: number, { pipe, cutsMm, windowMm }: Cutting, known: PipeKnowledge): PipeInputs {
  const isEnd = (at: number): boolean => at % windowMm === 0 || cutsMm.includes(at) || pipe.contains(at) !== pipe.contains(at - 1)
    || [...known.yields, ...known.folds, ...known.reasons].some(({ interval }) => interval.fromMm === at || interval.toMm === at);
  let [from, to] = [mm, mm + 1];
  while (from > 0 && !isEnd(from)) from -= 1;
  while (!isEnd(to)) to += 1;
  const near = <T>(all: readonly Standing<T>[]): T[] => all.filter(({ interval }) => interval.fromMm < to && interval.toMm > from).map(({ of }) => of);
  const by = <T extends { value: string }>(all: readonly T[], isWorse: (one: number, other: number) => boolean): T | null =>
    all.reduce<T | null>((worst, one) => (worst === null || isWorse(Number(one.value), Number(worst.value)) ? one : worst), null);
  const folded = known.folds.find(({ interval }) => holds(interval, mm));
  return {
    outsideDiameterMm: by([...(known.nominalDiameterMm === null ? [] : [known.nominalDiameterMm]), ...near(known.diameters)], (one, other) => one > other),
    wallThicknessMm: known.walls.some(({ interval }) => holds(interval, mm)) ? by(near(known.walls), (one, other) => one < other) : null,
    yieldMpa: by(known.yields.filter(({ interval }) => holds(interval, mm)).map(({ of }) => of), (one, other) => one < other),
    kappa: folded?.of.kappa ?? null, lambda: folded?.of.lambda ?? null,
  };
}

const reasonAt = (mm: number, name: keyof PipeInputs, known: PipeKnowledge): string | undefined =>
  known.reasons.filter(({ interval }) => holds(interval, mm)).map(({ of }) => of[name]).find((words) => words !== undefined);

const at = (stretches: readonly StretchInputs[], mm: number): StretchInputs[] => stretches.filter(({ interval }) => holds(interval, mm));

describe('pipe cut for its ratings', () => {
  test('says at every millimetre what a walk over single millimetres says, once, and nothing of other pipe', () => {
    let rated = 0;
    fc.assert(fc.property(cutting, knowledge, (question, known) => {
      const stretches = cutPipe(question, known);
      for (let mm = 0; mm < LONGEST_MM; mm += 1) {
        const found = at(stretches, mm);
        expect(found).toHaveLength(question.pipe.contains(mm) ? 1 : 0);
        const [one] = found;
        if (one === undefined) continue;
        expect(one.inputs).toEqual(walked(mm, question, known));
        for (const name of Object.keys(one.inputs) as (keyof PipeInputs)[]) expect(one.why?.[name]).toBe(one.inputs[name] === null ? reasonAt(mm, name, known) : undefined);
        if (one.inputs.wallThicknessMm !== null && one.inputs.yieldMpa !== null) rated += 1;
      }
    }), { ...seedFromEnvironment(), numRuns: 200 });
    expect(rated).toBeGreaterThan(200);
  });

  test('never lies across a cut, and leaves no neighbours that say the same', () => {
    fc.assert(fc.property(cutting, knowledge, (question, known) => {
      const stretches = cutPipe(question, known);
      for (const { interval } of stretches) expect(question.cutsMm.filter((cut) => cut > interval.fromMm && cut < interval.toMm)).toEqual([]);
      stretches.slice(1).forEach((one, index) => {
        const before = stretches[index]!;
        if (before.interval.toMm !== one.interval.fromMm || question.cutsMm.includes(one.interval.fromMm)) return;
        expect([one.inputs, one.why]).not.toEqual([before.inputs, before.why]);
      });
    }), { ...seedFromEnvironment(), numRuns: 200 });
  });

  test('one more reading never makes a measured millimetre rate by a thicker wall', () => {
    const more = standing(given(40, 60).map((one) => ({ ...one, basis: 'measured minimum' as const })), 2);
    fc.assert(fc.property(cutting, knowledge, more, (question, known, added) => {
      const [before, after] = [cutPipe(question, known), cutPipe(question, { ...known, walls: [...known.walls, ...added] })];
      for (let mm = 0; mm < LONGEST_MM; mm += 1) {
        const [one, other] = [at(before, mm)[0]?.inputs.wallThicknessMm, at(after, mm)[0]?.inputs.wallThicknessMm];
        if (one != null) expect(Number(other?.value)).toBeLessThanOrEqual(Number(one.value));
      }
    }), { ...seedFromEnvironment(), numRuns: 200 });
  });
});
