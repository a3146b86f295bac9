import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval } from '#libs/intervals';
import { type Change, type InspectionRun, type Look, proofOf, type ReferenceCheck, unmetOccasions } from '#libs/reference-checks';
import { seedFromEnvironment } from '../setup/seed.js';
import { ASKED, checkOf, history, MILLIMETRES, PIPE_MM, runOf } from './reference-checks.arbitraries.js';
import { type PlainChange, type PlainCheck, type PlainLook, type PlainRun, provePlainly, unmetPlainly } from './reference-checks.reference.js';

const RUNS = 1_000;

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
