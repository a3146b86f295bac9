import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import type { InspectionRun, ReferenceCheck } from '#libs/reference-checks';
import type { PlainCheck, PlainRun } from './reference-checks.reference.js';

export const PIPE_MM = 40;
export const MILLIMETRES = Array.from({ length: PIPE_MM }, (_, mm) => mm);
export const ASKED = IntervalSet.of(interval(0, PIPE_MM));

const checks: fc.Arbitrary<PlainCheck[]> = fc
  .array(fc.record({ at: fc.integer({ min: -2, max: 45 }), outcome: fc.constantFrom<PlainCheck['outcome']>('passed', 'passed', 'passed', 'failed', 'void') }), { maxLength: 9, size: 'max' })
  .map((list) => list.map((check, nth) => ({ ...check, id: `c${nth}` })));

/** Runs one after the other in time, each of pieces that go on, stand, go back or leap, some of a single instant. */
const runs: fc.Arbitrary<PlainRun[]> = fc
  .array(
    fc.record({
      pause: fc.nat({ max: 4 }),
      from: fc.option(fc.nat({ max: PIPE_MM }), { freq: 3 }),
      pieces: fc.array(fc.record({ lasts: fc.nat({ max: 6 }), goes: fc.integer({ min: -9, max: 16 }) }), { minLength: 1, maxLength: 4 }),
      invalid: fc.uniqueArray(fc.nat({ max: PIPE_MM }), { maxLength: 4 }),
      ended: fc.constantFrom(true, true, true, false),
    }),
    { maxLength: 4, size: 'max' },
  )
  .map((list) => {
    let [clock, mm] = [0, 0];
    return list.map(({ pause, from, pieces, invalid, ended }, nth) => {
      clock += pause;
      mm = from ?? mm;
      const own = pieces.map(({ lasts, goes }) => {
        const piece = { t0: clock, t1: clock + lasts, mm0: mm, mm1: Math.min(PIPE_MM, Math.max(0, mm + goes)) };
        [clock, mm] = [piece.t1, piece.mm1];
        // An instant of its own for what is read at one instant: two readings of one millimetre then have an order.
        clock += lasts === 0 ? 1 : 0;
        return piece;
      });
      return { id: `run ${nth}`, pieces: own, invalid, ended: ended || nth < list.length - 1 };
    });
  });

/** As the library takes them. */
export const checkOf = ({ id, at, outcome }: PlainCheck): ReferenceCheck => ({ id, atUs: at, footageMm: 0, outcome, reason: 'other' });
export const runOf = ({ id, pieces, invalid, ended }: PlainRun): InspectionRun => ({
  id, ended, pieces: pieces.map(({ t0, t1, mm0, mm1 }) => ({ fromUs: t0, toUs: t1, fromMm: mm0, toMm: mm1 })),
  valid: ASKED.subtract(IntervalSet.from(invalid.map((mm) => interval(mm, mm + 1)))),
});
const shuffledOf = <T>(list: readonly T[]): fc.Arbitrary<T[]> => fc.shuffledSubarray([...list], { minLength: list.length });
/** Runs and checks, each also in another order, and the rule for pipe that was read twice. */
export const history = fc.tuple(runs, checks).chain(([ran, made]) => fc.record({
  ran: fc.constant(ran), made: fc.constant(made), ranShuffled: shuffledOf(ran.map((run) => ({ ...run, pieces: run.pieces.toReversed() }))), madeShuffled: shuffledOf(made),
  rule: fc.constantFrom('best' as const, 'latest' as const),
}));
