import { expect, test } from '@jest/globals';
import fc from 'fast-check';
import { interval, IntervalSet } from '#libs/intervals';
import type { OpenPoint } from '#libs/reinspection';
import { afterRepair } from '../../apps/api/src/reinspections/after-repair.js';
import type { RecordedLook, RecordedRepair, RecordedWeld } from '../../apps/api/src/reinspections/looks.js';
import { seedFromEnvironment } from '../setup/seed.js';
import { openOnWeldedOver, type PlainLook, type PlainRepair } from './reinspection.reference.js';

const PIPE_MM = 16;
const MILLIMETRES = Array.from({ length: PIPE_MM }, (_, mm) => mm);
const place = fc.tuple(fc.nat({ max: PIPE_MM - 1 }), fc.integer({ min: 1, max: 12 })).map(([from, length]) => ({ from, to: Math.min(PIPE_MM, from + length) }));
const event: fc.Arbitrary<PlainRepair> = fc.tuple(place, fc.nat({ max: 7 })).map(([where, at]) => ({ ...where, at }));
const look: fc.Arbitrary<PlainLook> = fc
  .tuple(event, fc.constantFrom('UT', 'VT'), fc.constantFrom<PlainLook['outcome']>('accepted', 'accepted', 'accepted', 'held', 'rejected'), fc.integer({ min: 1, max: 2 }))
  .map(([where, method, outcome, tenths]) => ({ ...where, method, outcome, tenths, standsInFor: [], technique: null, reflector: 'notch', seesFlaws: true }));

const record = { kind: 'x', id: 'x', version: 1, label: 'x' };
const on = ({ from, to }: { from: number; to: number }): IntervalSet => IntervalSet.of(interval(from, to));
const repairOf = (plain: PlainRepair): RecordedRepair => ({ row: {} as RecordedRepair['row'], record, on: on(plain), atUs: plain.at });
const weldOf = (plain: PlainRepair): RecordedWeld => ({ record, observedAt: String(plain.at), on: on(plain), atUs: plain.at });
const lookOf = (plain: PlainLook): RecordedLook => ({
  record, on: on(plain), atUs: plain.at, observedAt: String(plain.at), doneBy: 'p', method: plain.method, standsInFor: [], standIn: null, technique: null,
  sensitivity: { reflector: 'notch', sizeMm: `0.${plain.tenths}` }, outcome: plain.outcome, seesFlaws: true,
});
const said = ({ reason, before, since }: OpenPoint<RecordedLook>): string => (reason === 'not-looked-at' ? reason : `${reason} ${(before[0] ?? since[0])?.method ?? ''}`);

test('a repair that was welded over stays open for what a walk along its pipe finds since the last weld', () => {
  let [openSinceWeld, closedSinceWeld] = [0, 0];
  fc.assert(
    fc.property(
      fc.array(event, { minLength: 1, maxLength: 2 }), fc.array(event, { maxLength: 3 }), fc.array(look, { maxLength: 8, size: 'max' }), fc.array(place, { maxLength: 1 }),
      (repairs, welds, looks, cuts) => {
        const changed = { repairs: repairs.map(repairOf), welds: welds.map(weldOf), removed: IntervalSet.from(cuts.map(({ from, to }) => interval(from, to))) };
        for (const plain of repairs) {
          const { open, openSinceWelds } = afterRepair(repairOf(plain), changed, looks.map(lookOf));
          const points = [...open, ...openSinceWelds.flatMap((one) => one.open)];
          const expected = MILLIMETRES.map((mm) => openOnWeldedOver(plain, mm, { repairs, looks, cuts }, welds));
          expect(MILLIMETRES.map((mm) => [...new Set(points.filter((point) => point.on.contains(mm)).map(said))].sort())).toEqual(expected.map((words) => [...(words ?? [])].sort()));
          const welded = expected.filter((words, mm) => words !== null && welds.some(({ from, to, at }) => from <= mm && mm < to && at > plain.at));
          closedSinceWeld += welded.filter((words) => words?.size === 0).length;
          openSinceWeld += welded.filter((words) => words !== null && words.size > 0).length;
        }
      },
    ),
    { ...seedFromEnvironment(), numRuns: 800 },
  );
  // About 700 and 50 millimetres, whatever the seed.
  expect([openSinceWeld > 200, closedSinceWeld > 5]).toEqual([true, true]);
});
