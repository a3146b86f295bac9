import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Repair } from '../repairs/repair.entity.js';
import { afterRepair } from './after-repair.js';
import type { RecordedLook, RecordedRepair, RecordedWeld } from './looks.js';
import { openAfter } from './reinspection-answer.js';

const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
const mm = (fromMm: number, toMm: number): IntervalSet => IntervalSet.of(interval(fromMm, toMm));
const link = (kind: string, minute: number) => ({ kind, id: `${kind} ${minute}`, version: 1, label: kind });

const look = (minute: number, method = 'UT', on = mm(0, 100)): RecordedLook => ({
  record: link('examination', minute), on, atUs: microseconds(at(minute)), observedAt: at(minute), doneBy: 'p',
  method, standsInFor: [], standIn: null, technique: `${method}-04`, sensitivity: null, outcome: 'accepted', seesFlaws: true,
});
const repair = (minute: number, on = mm(10, 30)): RecordedRepair => ({ row: { marks: [] as Repair['marks'] } as Repair, record: link('repair', minute), on, atUs: microseconds(at(minute)) });
const weld = (minute: number, on = mm(20, 50)): RecordedWeld => ({ record: link('weld', minute), on, observedAt: at(minute), atUs: microseconds(at(minute)) });

const ground = repair(10);
const open = (repairs: RecordedRepair[], welds: RecordedWeld[], looks: RecordedLook[], removed = IntervalSet.empty): string[] =>
  openAfter(ground, removed, afterRepair(ground, { repairs, welds, removed }, looks)).map(({ words }) => words);
const unseen = (pipe: string, minute: number): string => `${pipe}, changed again by the weld of ${at(minute)}: not looked at for flaws since; done before and asked for again: UT`;

describe('a repair welded over', () => {
  test('is not closed by that: what nobody looked at since the weld stays open with it, by every method used before', () => {
    expect(open([ground], [weld(20)], [look(1)])).toEqual(['10 to 20 mm: not looked at for flaws since; done before and asked for again: UT', unseen('20 to 30 mm', 20)]);
    // Looked at between the two: the weld took that as well.
    expect(open([ground], [weld(20)], [look(1), look(15)])).toEqual([unseen('20 to 30 mm', 20)]);
    expect(open([ground], [weld(20)], [look(1), look(15), look(25, 'VT')])).toEqual([`20 to 30 mm, changed again by the weld of ${at(20)}: UT was done before and not since`]);
    expect(open([ground], [weld(20)], [look(1), look(25)])).toEqual([]);
  });

  test('is told of the last weld; welded before or at its instant it is its own', () => {
    expect(open([ground], [weld(20), weld(22, mm(25, 50))], [look(1), look(21)])).toEqual([unseen('25 to 30 mm', 22)]);
    for (const minute of [5, 10]) expect(open([ground], [weld(minute)], [look(1), look(15)])).toEqual([]);
  });

  test('and repaired again there is told of that repair, and cut out of nobody', () => {
    const looks = [look(1), look(15)];
    expect(open([ground, repair(25, mm(20, 25))], [weld(20)], looks)).toEqual([unseen('25 to 30 mm', 20)]);
    expect(open([ground, repair(18, mm(20, 25))], [weld(20)], looks)).toEqual([unseen('25 to 30 mm', 20)]);
    expect(open([ground], [weld(20)], looks, mm(22, 90))).toEqual([unseen('20 to 22 mm', 20)]);
  });

  test('names a look once, with all its pipe that was looked at', () => {
    const found = afterRepair(ground, { repairs: [ground], welds: [weld(20)], removed: IntervalSet.empty }, [look(1), look(15), look(25)]);
    expect(found.since.map(({ it, on }) => [it.observedAt, on.toMultirange()])).toEqual([[at(15), '{[10,20)}'], [at(25), '{[10,30)}']]);
  });
});
