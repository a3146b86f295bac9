import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { differences, EVIDENCE_STATES, evidenceLine, judgedPipe, pipeByState, verdictAlong, withinInterval, type EvidenceLine, type JudgedStretch } from '#libs/evidence';
import type { Interval, IntervalSet } from '#libs/intervals';
import { seedFromEnvironment } from '../setup/seed.js';
import { CELLS, demandedSet, furtherWord, furtherWords, histories, pipes, PIPE_CELLS, setOf, testimonyOf, ticks } from './evidence.arbitraries.js';
import {
  badness, changeOn, isDemanded, isPipe, judgedOn, lineOn, verdictOn, type PlainHistory, type PlainItem, type PlainJudged, type PlainVerdict, type PlainWord,
} from './evidence.reference.js';

/** Decimetres, and every millimetre of a short pipe. */
const WALKS = [['decimetre', 100], ['millimetre', 1]] as const;
const RUNS = 500;

/** How often each outcome was met, so that none goes untried. */
class Met {
  private readonly times = new Map<string, number>();

  add(...words: string[]): void {
    for (const word of words) this.times.set(word, (this.times.get(word) ?? 0) + 1);
  }

  expectMoreThan(least: number, words: readonly string[]): void {
    expect(words.filter((word) => (this.times.get(word) ?? 0) <= least)).toEqual([]);
  }
}

const lineOf = (item: PlainItem, history: PlainHistory, cellMm: number): EvidenceLine<string> =>
  evidenceLine(item.key, setOf(history.pipe, cellMm), demandedSet(item, history, cellMm), item.words.map((word) => testimonyOf(word, history, cellMm)));

/** The stretch that holds a cell whole; null where none touches it. */
function stretchOn<S extends Interval>(stretches: readonly S[], cell: number, cellMm: number): S | null {
  const touching = stretches.filter(({ fromMm, toMm }) => fromMm < (cell + 1) * cellMm && cell * cellMm < toMm);
  const [one] = touching;
  const isWhole = one === undefined || (touching.length === 1 && one.fromMm <= cell * cellMm && (cell + 1) * cellMm <= one.toMm);
  if (!isWhole) throw new Error(`cell ${cell} is not in one stretch: ${JSON.stringify(touching)}`);
  return one ?? null;
}

/** What judged stretches say cell by cell, with the ids of the words in place of their numbers. */
function toldOf(stretches: readonly JudgedStretch[], words: readonly PlainWord[], cellMm: number): (PlainJudged | null)[] {
  return CELLS.map((cell) => {
    const one = stretchOn(stretches, cell, cellMm);
    return one === null ? null : { state: one.state, late: one.late, otherwise: one.otherwise, by: one.by.map((nth) => words[nth]?.id ?? 'no such word') };
  });
}

/** Stretches in order that cover just the pipe; two that touch say different things. */
function expectWellLaid(stretches: readonly Interval[], pipe: IntervalSet): void {
  const saidOf = ({ fromMm: _from, toMm: _to, ...said }: Interval): unknown => said;
  for (const [nth, one] of stretches.entries()) {
    const next = stretches[nth + 1];
    expect(one.fromMm).toBeLessThan(one.toMm);
    if (next !== undefined) expect(one.toMm).toBeLessThanOrEqual(next.fromMm);
    if (next?.fromMm === one.toMm) expect(saidOf(next)).not.toEqual(saidOf(one));
  }
  expect(stretches.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0)).toBe(pipe.totalLengthMm);
  expect(stretches.every((one) => pipe.covers(one))).toBe(true);
}

const plain = (judged: PlainJudged | null): PlainJudged | null => (judged === null ? null : { ...judged, by: [...judged.by].sort() });

describe.each(WALKS)('evidence along the pipe, walked by the %s', (_name, cellMm) => {
  test('is what the walk finds: state, lateness, what it would be without a waiver, and the words that decide', () => {
    const met = new Met();
    fc.assert(
      fc.property(histories, (history) => {
        for (const item of history.items) {
          const { key, stretches, testimonies } = lineOf(item, history, cellMm);
          const expected = CELLS.map((cell) => lineOn(item, history, cell));
          expect(toldOf(stretches, item.words, cellMm)).toEqual(expected);
          expect([key, testimonies.length]).toEqual([item.key, item.words.length]);
          expect(stretches.every(({ by }) => by.every((nth, index) => index === 0 || nth > (by[index - 1] ?? nth)))).toBe(true);
          expectWellLaid(stretches, setOf(history.pipe, cellMm));
          for (const one of expected) if (one !== null) met.add(`${one.state}${one.late ? ' late' : ''}`, `conceded, else ${one.otherwise}`, `${one.state} by ${Math.min(one.by.length, 2)}`);
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    met.expectMoreThan(20, [
      ...EVIDENCE_STATES, ...['failed', 'suspect', 'provisional', 'conceded', 'confirmed'].map((state) => `${state} late`),
      ...['failed', 'suspect', 'provisional', 'missing'].map((state) => `conceded, else ${state}`), 'missing by 0', 'missing by 1', 'missing by 2', 'confirmed by 2',
    ]);
  });

  test('is judged on demanded pipe alone, joints beyond the pipe with it', () => {
    let judged = 0;
    fc.assert(
      fc.property(histories, (history) => {
        for (const item of history.items) {
          const demanded = demandedSet(item, history, cellMm);
          const stretches = judgedPipe(demanded, item.words.map((word) => testimonyOf(word, history, cellMm)));
          expect(toldOf(stretches, item.words, cellMm)).toEqual(CELLS.map((cell) => (isDemanded(item, history, cell) ? judgedOn(item.words, history, cell) : null)));
          expectWellLaid(stretches, demanded);
          judged += stretches.length;
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    expect(judged).toBeGreaterThan(RUNS);
  });

  test('gets worse nowhere by one more word, unless it speaks against; and late only where it comes to another state', () => {
    const met = new Met();
    fc.assert(
      fc.property(histories, furtherWord, (history, more) => {
        for (const item of history.items) {
          const richer = { ...item, words: [...item.words, more] };
          const [before, after] = [item, richer].map((one) => toldOf(lineOf(one, history, cellMm).stretches, one.words, cellMm));
          for (const [nth, one] of (before ?? []).entries()) {
            const other = after?.[nth];
            if (one === null || other === null || other === undefined) continue;
            const change = badness(other.state) - badness(one.state);
            if (change > 0) expect(['failed', 'suspect']).toContain(more.says);
            if (change < 0) expect(['failed', 'awaited']).not.toContain(more.says);
            if (change < 0 && more.says === 'suspect') expect(one.state).toBe('missing');
            if (change === 0 && !one.late) expect(other.late).toBe(false);
            met.add(change > 0 ? 'worse' : change < 0 ? 'better' : one.late && !other.late ? 'in time now' : 'as it was');
          }
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    met.expectMoreThan(50, ['worse', 'better', 'as it was']);
    met.expectMoreThan(0, ['in time now']);
  });

  test('does not depend on the order in which the words came', () => {
    fc.assert(
      fc.property(histories.chain((history) => fc.tuple(fc.constant(history), fc.tuple(...history.items.map(({ words }) => fc.shuffledSubarray([...words], { minLength: words.length }))))), ([history, shuffled]) => {
        for (const [nth, item] of history.items.entries()) {
          const other = { ...item, words: shuffled[nth] ?? [] };
          const [one, two] = [lineOf(item, history, cellMm), lineOf(other, history, cellMm)];
          expect(toldOf(two.stretches, other.words, cellMm).map(plain)).toEqual(toldOf(one.stretches, item.words, cellMm).map(plain));
          expect(two.stretches.map(({ fromMm, toMm }) => [fromMm, toMm])).toEqual(one.stretches.map(({ fromMm, toMm }) => [fromMm, toMm]));
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
  });

  test('is cut to an interval without being changed in it', () => {
    fc.assert(
      fc.property(histories, fc.nat({ max: PIPE_CELLS }), fc.integer({ min: 1, max: PIPE_CELLS }), (history, from, length) => {
        for (const item of history.items) {
          const { stretches } = lineOf(item, history, cellMm);
          const cut = withinInterval(stretches, { fromMm: from * cellMm, toMm: (from + length) * cellMm });
          const expected = CELLS.map((cell) => (from <= cell && cell < from + length ? lineOn(item, history, cell) : null));
          expect(toldOf(cut, item.words, cellMm)).toEqual(expected);
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
  });
});

/** A history with pipe that is asked about, and for each item whether its line leaves out what is not demanded. */
const asked = fc.noBias(fc.record({ history: histories, pipe: pipes, bare: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }), without: fc.nat({ max: 9 }).map((nth) => nth === 0) }));

interface Said {
  readonly line: EvidenceLine<string>;
  readonly on: (cell: number) => PlainJudged | null;
}
function saidOf(history: PlainHistory, bare: readonly boolean[], cellMm: number): Said[] {
  return history.items.map((item, nth) => {
    const whole = lineOf(item, history, cellMm);
    if (bare[nth] !== true) return { line: whole, on: (cell) => lineOn(item, history, cell) };
    const stretches = judgedPipe(demandedSet(item, history, cellMm), whole.testimonies);
    return { line: { ...whole, stretches }, on: (cell) => (isDemanded(item, history, cell) ? judgedOn(item.words, history, cell) : null) };
  });
}

describe.each(WALKS)('the verdict, walked by the %s', (_name, cellMm) => {
  test('is the worst of what the lines come to, named by them, and missing where there is none', () => {
    const met = new Met();
    fc.assert(
      fc.property(asked, ({ history, pipe, bare, without }) => {
        const said = without ? [] : saidOf(history, bare, cellMm);
        const own = setOf(pipe, cellMm);
        const stretches = verdictAlong(own, said.map(({ line }) => line));
        const expected = CELLS.map((cell) => (isPipe({ ...history, pipe }, cell) ? verdictOn(said.map(({ line, on }) => ({ key: line.key, judged: on(cell) }))) : null));
        const told = CELLS.map((cell): PlainVerdict | null => {
          const one = stretchOn(stretches, cell, cellMm);
          return one === null ? null : { state: one.state, late: one.late, by: one.by };
        });
        expect(told).toEqual(expected);
        expectWellLaid(stretches, own);
        expectByState(stretches, expected, cellMm);
        for (const one of expected) if (one !== null) met.add(`${one.state} by ${Math.min(one.by.length, 2)}`, `${one.state}${one.late ? ' late' : ''}`);
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    met.expectMoreThan(20, [...EVIDENCE_STATES.map((state) => `${state} by 1`), ...EVIDENCE_STATES, 'missing by 0', 'missing late', 'failed late', 'confirmed late']);
    met.expectMoreThan(0, ['failed', 'missing', 'conceded', 'confirmed', 'not-required'].map((state) => `${state} by 2`));
  });
});

function expectByState(stretches: Parameters<typeof pipeByState>[0], expected: readonly (PlainVerdict | null)[], cellMm: number): void {
  const byState = pipeByState(stretches);
  expect(byState.map(({ state }) => state)).toEqual(['failed', 'missing', 'suspect', 'provisional', 'conceded', 'confirmed', 'not-required']);
  for (const { state, pipe } of byState) {
    expect(CELLS.filter((cell) => pipe.contains(cell * cellMm))).toEqual(CELLS.filter((_cell, nth) => expected[nth]?.state === state));
  }
}

/** Two answers: the later has further words, all of them entered at one tick, another pipe, or an item more, less or elsewhere. */
const answers = fc.record({
  history: histories, further: fc.array(furtherWords, { minLength: 4, maxLength: 4 }), at: fc.option(ticks, { freq: 1 }), pipe: fc.option(pipes, { freq: 1 }),
  gone: fc.option(fc.nat({ max: 3 })), come: fc.option(fc.nat({ max: 3 })), elsewhere: fc.option(fc.nat({ max: 3 })),
}).map(({ history, further, at, pipe, gone, come, elsewhere }) => {
  const later = history.items.map((item, nth): PlainItem => ({
    ...item, where: nth === elsewhere ? 'ends' : item.where, words: [...item.words, ...(further[nth] ?? [])].map((word) => ({ ...word, enteredAt: at ?? word.enteredAt })),
  }));
  return {
    before: { ...history, items: history.items.filter((_item, nth) => nth !== come) },
    after: { ...history, pipe: pipe ?? history.pipe, items: later.filter((_item, nth) => nth !== gone) },
  };
});

const justSaid = (one: { readonly state: string; readonly late: boolean } | null): { state: string; late: boolean } | null => (one === null ? null : { state: one.state, late: one.late });

describe.each(WALKS)('what differs between two answers, walked by the %s', (_name, cellMm) => {
  test('is what differs cell by cell, line by line, and says what is worse', () => {
    const met = new Met();
    fc.assert(
      fc.property(answers, ({ before, after }) => {
        const [then, now] = [before, after].map((history) => history.items.map((item) => lineOf(item, history, cellMm)));
        const found = differences(then ?? [], now ?? []);
        const keys = [...before.items.map(({ key }) => key), ...after.items.map(({ key }) => key).filter((key) => !before.items.some((item) => item.key === key))];
        const sayingOn = (history: PlainHistory, key: string, cell: number): PlainJudged | null => {
          const item = history.items.find((one) => one.key === key);
          return item === undefined ? null : lineOn(item, history, cell);
        };
        const expected = keys.flatMap((key) => CELLS.flatMap((cell) => {
          const [one, other] = [sayingOn(before, key, cell), sayingOn(after, key, cell)];
          const change = changeOn(one, other);
          met.add(change, one !== null && one.state === other?.state && change === 'other' ? 'in time or late now' : change, `${one?.state ?? 'nothing'} to ${other?.state ?? 'nothing'}: ${change}`);
          return change === 'same' ? [] : [{ key, cell, before: justSaid(one), after: justSaid(other), worse: change === 'worse' }];
        }));
        const told = found.flatMap(({ key, fromMm, toMm, before: one, after: other, worse }) => {
          expect(Number.isInteger(fromMm / cellMm) && Number.isInteger(toMm / cellMm)).toBe(true);
          return Array.from({ length: (toMm - fromMm) / cellMm }, (_, nth) => ({ key, cell: fromMm / cellMm + nth, before: justSaid(one), after: justSaid(other), worse }));
        });
        expect(told).toEqual(expected);
        for (const [nth, one] of found.entries()) {
          const next = found[nth + 1];
          if (next?.key === one.key && next.fromMm === one.toMm) expect([next.before, next.after]).not.toEqual([one.before, one.after]);
        }
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    met.expectMoreThan(0, [
      'same', 'worse', 'other', 'nothing to missing: worse', 'nothing to confirmed: other', 'nothing to conceded: other', 'nothing to provisional: worse', 'nothing to not-required: other',
      'not-required to missing: worse', 'not-required to confirmed: other', 'confirmed to failed: worse', 'confirmed to nothing: other', 'missing to confirmed: other', 'in time or late now',
    ]);
  });

  test('is nothing between equal answers', () => {
    let lines = 0;
    fc.assert(
      fc.property(histories, (history) => {
        const [one, other] = [0, 1].map(() => history.items.map((item) => lineOf(item, history, cellMm)));
        expect(differences(one ?? [], other ?? [])).toEqual([]);
        lines += one?.length ?? 0;
      }),
      { ...seedFromEnvironment(), numRuns: RUNS },
    );
    expect(lines).toBeGreaterThan(RUNS);
  });
});
