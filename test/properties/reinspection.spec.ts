import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import { countsOn, reinspection, type Look, type RepairEvent } from '#libs/reinspection';
import { seedFromEnvironment } from '../setup/seed.js';
import { openOn, stillCounts, type PlainHistory, type PlainLook, type PlainRepair } from './reinspection.reference.js';

const PIPE_MM = 24;
const MILLIMETRES = Array.from({ length: PIPE_MM }, (_, mm) => mm);

const place = fc.tuple(fc.nat({ max: PIPE_MM - 1 }), fc.integer({ min: 1, max: 20 })).map(([from, length]) => ({ from, to: Math.min(PIPE_MM, from + length) }));
/** Few instants, so that several things happen at one. */
const at = fc.nat({ max: 7 });

const repairs: fc.Arbitrary<PlainRepair> = fc.tuple(place, at).map(([where, when]) => ({ ...where, at: when }));

const looks: fc.Arbitrary<PlainLook> = fc
  .record({
    where: place,
    at,
    kind: fc.constantFrom<Pick<PlainLook, 'method' | 'standsInFor' | 'technique' | 'seesFlaws'>>(
      { method: 'UT', standsInFor: [], technique: 'UT-04', seesFlaws: true }, { method: 'UT', standsInFor: [], technique: 'UT-05', seesFlaws: true },
      { method: 'VT', standsInFor: [], technique: 'VT-01', seesFlaws: true }, { method: 'VT', standsInFor: ['UT'], technique: 'VT-01', seesFlaws: true },
      { method: 'wall', standsInFor: [], technique: null, seesFlaws: false },
    ),
    reflector: fc.constantFrom('notch', 'notch', 'notch', 'notch', 'hole', null),
    tenths: fc.integer({ min: 1, max: 3 }),
    outcome: fc.constantFrom<PlainLook['outcome']>('accepted', 'accepted', 'held', 'rejected'),
  })
  .map(({ where, kind, reflector, ...rest }) => ({ ...where, ...kind, ...rest, reflector: kind.method === 'wall' ? null : reflector }));

const histories: fc.Arbitrary<PlainHistory> = fc.record({
  repairs: fc.array(repairs, { minLength: 1, maxLength: 4 }), looks: fc.array(looks, { maxLength: 9, size: 'max' }), cuts: fc.array(place, { maxLength: 1 }),
});

interface NamedLook extends Look {
  readonly plain: PlainLook;
}
interface NamedRepair extends RepairEvent {
  readonly plain: PlainRepair;
}

const setOf = ({ from, to }: { from: number; to: number }): IntervalSet => IntervalSet.of(interval(from, to));

const lookOf = (plain: PlainLook): NamedLook => ({
  plain, on: setOf(plain), atUs: plain.at, method: plain.method, standsInFor: plain.standsInFor, technique: plain.technique, outcome: plain.outcome, seesFlaws: plain.seesFlaws,
  sensitivity: plain.reflector === null ? null : { reflector: plain.reflector, sizeMm: `0.${plain.tenths}` },
});
const repairOf = (plain: PlainRepair): NamedRepair => ({ plain, on: setOf(plain), atUs: plain.at });

/** The open points of one repair as the library has them, told millimetre by millimetre as the reference tells them. */
function told(repair: NamedRepair, all: readonly NamedRepair[], seen: readonly NamedLook[], cuts: PlainHistory['cuts']): (string[] | null)[] {
  const found = reinspection(repair, all, seen, IntervalSet.from(cuts.map(({ from, to }) => interval(from, to))));
  return MILLIMETRES.map((mm) => {
    if (!found.standing.contains(mm)) return null;
    const points = found.open.filter(({ on }) => on.contains(mm));
    return [...new Set(points.map(({ reason, before, since }) => (reason === 'not-looked-at' ? reason : `${reason} ${(before[0] ?? since[0])?.method ?? ''}`)))].sort();
  });
}

describe('repaired pipe', () => {
  test('is open for what a walk along it finds, in whatever order the records came in', () => {
    const met = new Map<string, number>();
    fc.assert(
      fc.property(histories, fc.infiniteStream(fc.nat({ max: 1_000 })), (history, shuffle) => {
        const shuffled = <T>(list: readonly T[]): T[] =>
          list.map((one) => ({ one, key: Number(shuffle.next().value) })).sort((a, b) => a.key - b.key).map(({ one }) => one);
        const [all, seen] = [history.repairs.map(repairOf), history.looks.map(lookOf)];
        for (const repair of all) {
          const expected = MILLIMETRES.map((mm) => openOn(repair.plain, mm, history)).map((open) => (open === null ? null : [...open].sort()));
          expect(told(repair, all, seen, history.cuts)).toEqual(expected);
          expect(told(repair, shuffled(all), shuffled(seen), history.cuts)).toEqual(expected);
          for (const word of expected.flatMap((open) => (open === null ? ['gone'] : open.length === 0 ? ['closed'] : open))) {
            const reason = word.split(' ')[0] ?? '';
            met.set(reason, (met.get(reason) ?? 0) + 1);
          }
        }
      }),
      { ...seedFromEnvironment(), numRuns: 1_500 },
    );
    // Every way in which it can end was met, and none of them by chance.
    for (const reason of ['gone', 'closed', 'not-looked-at', 'not-repeated', 'not-stated', 'not-comparable', 'less-sensitive', 'held', 'rejected']) {
      expect([reason, (met.get(reason) ?? 0) > 20]).toEqual([reason, true]);
    }
  });

  test('takes from each result just the millimetres on which it was not followed, and leaves the others', () => {
    let taken = 0;
    fc.assert(
      fc.property(histories, (history) => {
        for (const plain of history.looks) {
          const counts = countsOn(lookOf(plain), history.repairs.map(repairOf));
          expect(MILLIMETRES.map((mm) => counts.contains(mm))).toEqual(MILLIMETRES.map((mm) => stillCounts(plain, mm, history)));
          taken += counts.equals(setOf(plain)) ? 0 : 1;
        }
      }),
      { ...seedFromEnvironment(), numRuns: 1_000 },
    );
    expect(taken).toBeGreaterThan(500);
  });

  test('names before a repair what was there before it, and since it what came later and stands', () => {
    let [named, asked] = [0, 0];
    fc.assert(
      fc.property(histories, (history) => {
        const [all, seen] = [history.repairs.map(repairOf), history.looks.map(lookOf)];
        for (const repair of all) {
          const { noLongerCount, since, repairedAgain, open } = reinspection(repair, all, seen, IntervalSet.empty);
          const own = MILLIMETRES.filter((mm) => repair.on.contains(mm));
          const onOwn = ({ from, to }: { from: number; to: number }): boolean => own.some((mm) => from <= mm && mm < to);
          expect(noLongerCount.map(({ it }) => it.plain)).toEqual(history.looks.filter((look) => look.at <= repair.plain.at && onOwn(look)));
          expect(repairedAgain.map(({ it }) => it.plain)).toEqual(history.repairs.filter((other) => other.at > repair.plain.at && onOwn(other)));
          const counted = history.looks.filter((look) => look.at > repair.plain.at && own.some((mm) => openOn(repair.plain, mm, history) !== null && stillCounts(look, mm, history)
            && !history.cuts.some(({ from, to }) => from <= mm && mm < to)));
          const uncut = reinspection(repair, all, seen, IntervalSet.from(history.cuts.map(({ from, to }) => interval(from, to)))).since;
          expect(uncut.map(({ it }) => it.plain)).toEqual(counted);
          for (const { on, before } of open.filter(({ reason }) => reason === 'not-looked-at')) {
            const there = ({ from, to }: { from: number; to: number }): boolean => MILLIMETRES.some((mm) => on.contains(mm) && from <= mm && mm < to);
            expect(before.map(({ plain }) => plain)).toEqual(history.looks.filter((look) => look.at <= repair.plain.at && there(look)));
            asked += before.length;
          }
          named += since.length + noLongerCount.length;
        }
      }),
      { ...seedFromEnvironment(), numRuns: 500 },
    );
    expect([named > 500, asked > 100]).toEqual([true, true]);
  });
});
