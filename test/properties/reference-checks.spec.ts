import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import { type Change, type InspectionRun, type Look, proofOf, type ReferenceCheck, unmetOccasions } from '#libs/reference-checks';
import { seedFromEnvironment } from '../setup/seed.js';
import { type PlainChange, type PlainCheck, type PlainLook, type PlainRun, provePlainly, unmetPlainly } from './reference-checks.reference.js';

const RUNS = 1_000;
const PIPE_MM = 40;
const MILLIMETRES = Array.from({ length: PIPE_MM }, (_, mm) => mm);
const ASKED = IntervalSet.of(interval(0, PIPE_MM));

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

const checkOf = ({ id, at, outcome }: PlainCheck): ReferenceCheck => ({ id, atUs: at, footageMm: 0, outcome, reason: 'other' });
const runOf = ({ id, pieces, invalid, ended }: PlainRun): InspectionRun => ({
  id, ended, pieces: pieces.map(({ t0, t1, mm0, mm1 }) => ({ fromUs: t0, toUs: t1, fromMm: mm0, toMm: mm1 })),
  valid: ASKED.subtract(IntervalSet.from(invalid.map((mm) => interval(mm, mm + 1)))),
});
const shuffledOf = <T>(list: readonly T[]): fc.Arbitrary<T[]> => fc.shuffledSubarray([...list], { minLength: list.length });
const history = fc.tuple(runs, checks).chain(([ran, made]) => fc.record({
  ran: fc.constant(ran), made: fc.constant(made), ranShuffled: shuffledOf(ran.map((run) => ({ ...run, pieces: run.pieces.toReversed() }))), madeShuffled: shuffledOf(made),
  rule: fc.constantFrom('best' as const, 'latest' as const),
}));

const plainLook = ({ run, bracket }: Look<InspectionRun, ReferenceCheck>): PlainLook => ({
  run: run.id, state: bracket.state, before: bracket.before.map(({ id }) => id), after: bracket.after.map(({ id }) => id),
});

describe('what reference checks prove', () => {
  test('is what a walk along the pipe finds, millimetre by millimetre, in whatever order the records came', () => {
    const met = new Map<string, number>();
    fc.assert(fc.property(history, ({ ran, made, ranShuffled, madeShuffled, rule }) => {
      const proof = proofOf(ran.map(runOf), made.map(checkOf), rule, ASKED);
      const lookedUp = MILLIMETRES.map((mm) => {
        const stretch = proof.stretches.find(({ fromMm, toMm }) => fromMm <= mm && mm < toMm)!;
        return { state: stretch.state, counts: stretch.counts === null ? null : plainLook(stretch.counts), others: stretch.others.map(plainLook) };
      });
      const expected = MILLIMETRES.map((mm) => provePlainly(mm, ran, made, rule));
      expect(lookedUp).toEqual(expected);
      expect(proofOf(ranShuffled.map(runOf), madeShuffled.map(checkOf), rule, ASKED).stretches.map(({ fromMm, toMm, state, counts, others }) =>
        [fromMm, toMm, state, counts === null ? null : plainLook(counts), others.map(plainLook)])).toEqual(proof.stretches.map(({ fromMm, toMm, state, counts, others }) =>
        [fromMm, toMm, state, counts === null ? null : plainLook(counts), others.map(plainLook)]));
      for (const state of ['confirmed', 'provisional', 'suspect', 'missing'] as const) {
        expect(MILLIMETRES.filter((mm) => proof[state].contains(mm))).toEqual(MILLIMETRES.filter((mm) => expected[mm]!.state === state));
        met.set(state, (met.get(state) ?? 0) + proof[state].totalLengthMm);
      }
      for (const { state, others } of expected) {
        const word = others.some((other) => other.state !== state) ? 'disagree' : others.length > 0 ? 'agree' : 'alone';
        met.set(word, (met.get(word) ?? 0) + 1);
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    for (const word of ['confirmed', 'provisional', 'suspect', 'missing', 'disagree', 'agree', 'alone']) expect([word, (met.get(word) ?? 0) > 500]).toEqual([word, true]);
  });

  test('covers what was asked for and no more, without overlap', () => {
    fc.assert(fc.property(history, fc.nat({ max: PIPE_MM - 1 }), ({ ran, made, rule }, from) => {
      const asked = ASKED.subtract(interval(from, from + 3));
      const { confirmed, provisional, suspect, missing, stretches } = proofOf(ran.map(runOf), made.map(checkOf), rule, asked);
      const sets = [confirmed, provisional, suspect, missing];
      expect(sets.reduce((sum, set) => sum + set.totalLengthMm, 0)).toBe(asked.totalLengthMm);
      expect(sets.reduce((all, set) => all.union(set)).equals(asked)).toBe(true);
      expect(stretches.every((one, nth) => nth === 0 || stretches[nth - 1]!.toMm <= one.fromMm)).toBe(true);
    }), { ...seedFromEnvironment(), numRuns: RUNS });
  });

  test('turns for the worse and never for the better by a check that failed', () => {
    const order = ['confirmed', 'provisional', 'suspect', 'missing'];
    let turned = 0;
    fc.assert(fc.property(history, fc.integer({ min: -2, max: 45 }), ({ ran, made, rule }, at) => {
      const before = proofOf(ran.map(runOf), made.map(checkOf), rule, ASKED);
      const after = proofOf(ran.map(runOf), [...made.map(checkOf), { id: 'late', atUs: at, footageMm: 0, outcome: 'failed', reason: 'other' }], rule, ASKED);
      const rank = (proof: typeof before, mm: number): number => order.findIndex((state) => proof[state as 'missing'].contains(mm));
      for (const mm of MILLIMETRES) {
        // After it, and until the next good one, nothing else that was suspect can become better.
        expect(rank(after, mm)).toBeGreaterThanOrEqual(rank(before, mm));
        turned += rank(after, mm) > rank(before, mm) ? 1 : 0;
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    expect(turned).toBeGreaterThan(1_000);
  });
});

describe('occasions at which no check was made in time', () => {
  test('are those found by living through the minutes, in whatever order the records came', () => {
    const met = new Map<string, number>();
    const rule = fc.record({ every: fc.integer({ min: 0, max: 12 }), grace: fc.nat({ max: 3 }) });
    const changes: fc.Arbitrary<PlainChange[]> = fc.array(fc.integer({ min: -2, max: 45 }), { maxLength: 3 }).map((list) => list.map((at, nth) => ({ id: `ch${nth}`, at })));
    fc.assert(fc.property(history, changes, rule, fc.nat({ max: 60 }), ({ ran, made, ranShuffled, madeShuffled }, changed, { every, grace }, now) => {
      const told = (ranSoFar: readonly PlainRun[], madeSoFar: readonly PlainCheck[], list: readonly PlainChange[]): string[] =>
        unmetOccasions(ranSoFar.map(runOf), madeSoFar.map(checkOf), list.map(({ id, at }): Change => ({ id, kind: 'operator', atUs: at })), { everyUs: every, graceUs: grace, source: 'test' }, now)
          .map(({ occasion, run, change, dueUs, check }) =>
            `${change === null ? `${occasion} ${run}` : `change ${change}`} due ${dueUs} ${check === null ? 'missing' : `came ${check.atUs}`}`);
      const expected = unmetPlainly(ran, made, changed, { every, grace }, now);
      const found = told(ran, made, changed);
      expect(new Set(found)).toEqual(expected);
      expect(found).toHaveLength(expected.size);
      expect(told(ranShuffled, madeShuffled, changed.toReversed())).toEqual(found);
      for (const one of expected) {
        const word = `${one.split(' ')[0] ?? ''} ${one.includes('came') ? 'late' : 'missing'}`;
        met.set(word, (met.get(word) ?? 0) + 1);
      }
    }), { ...seedFromEnvironment(), numRuns: RUNS });
    const words = ['start', 'interval', 'change', 'end'].flatMap((what) => [`${what} late`, `${what} missing`]);
    expect(words.filter((word) => (met.get(word) ?? 0) < 50)).toEqual([]);
  });
});
