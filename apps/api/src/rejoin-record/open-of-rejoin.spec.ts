import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { RecordedLook, RecordedRepair } from '../reinspections/looks.js';
import { openOfRejoin, type RejoinOnRecord } from './open-of-rejoin.js';

const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
/** Cut out from 500 to 700 mm: the ends are the millimetres before and after. */
const ENDS = IntervalSet.of(interval(499, 500), interval(700, 701));

const look = (minute: number, changes: Partial<RecordedLook> = {}): RecordedLook => ({
  record: { kind: 'examination', id: 'e', version: 1, label: 'RT' }, on: ENDS, atUs: microseconds(at(minute)), observedAt: at(minute), doneBy: 'p', method: 'RT',
  standsInFor: [], standIn: null, technique: 'RT-02', sensitivity: null, outcome: 'accepted', seesFlaws: true, ...changes,
});
const repair = (minute: number): RecordedRepair => ({ row: {} as RecordedRepair['row'], record: { kind: 'repair', id: 'r', version: 1, label: 'grinding' }, on: ENDS, atUs: microseconds(at(minute)) });
const sound: RejoinOnRecord = {
  joinedAt: at(0), verdict: 'accepted', ends: ENDS, welds: [{ observedAt: at(10), marks: [] }], examinations: [look(20)], repairs: [],
};
const UNPROVED = 'its verdict is accepted, and no examination on record since its last weld or repair accepts it on both sides';

describe('a re-join', () => {
  test('welded, then examined and accepted leaves nothing open', () => {
    expect(openOfRejoin(sound)).toEqual([]);
  });

  test('of which only the verdict is on record rests on nothing', () => {
    expect(openOfRejoin({ ...sound, welds: [], examinations: [] })).toEqual([
      'no weld of it is on record', 'no examination of both its sides since it was joined is on record', UNPROVED,
    ]);
  });

  test('welded again since, or examined at that instant or on one side only, is open again', () => {
    const words = 'no examination of both its sides since its last weld is on record';
    for (const minute of [20, 21]) expect(openOfRejoin({ ...sound, welds: [{ observedAt: at(minute), marks: [] }, ...sound.welds] })).toEqual([words, UNPROVED]);
    expect(openOfRejoin({ ...sound, examinations: [look(20, { on: IntervalSet.of(interval(0, 500)) })] })).toEqual([words, UNPROVED]);
  });

  test('that an examination rejected or held is open, whatever the verdict', () => {
    expect(openOfRejoin({ ...sound, examinations: [look(20, { outcome: 'rejected' }), look(21)] })).toEqual([`499 to 500 mm, 700 to 701 mm: RT of ${at(20)} rejected it`]);
    expect(openOfRejoin({ ...sound, examinations: [look(20, { outcome: 'rejected' })] })).toEqual([`499 to 500 mm, 700 to 701 mm: RT of ${at(20)} rejected it`, UNPROVED]);
    expect(openOfRejoin({ ...sound, verdict: 'open', examinations: [look(20, { outcome: 'held' })] })).toEqual([`499 to 500 mm, 700 to 701 mm: RT of ${at(20)} held it`, 'its verdict is open']);
  });

  test('repaired since has no verdict any more until it is accepted again', () => {
    expect(openOfRejoin({ ...sound, repairs: [repair(30)] })).toEqual([UNPROVED]);
    expect(openOfRejoin({ ...sound, repairs: [repair(20)] })).toEqual([UNPROVED]);
    expect(openOfRejoin({ ...sound, repairs: [repair(30)], examinations: [look(20), look(31)] })).toEqual([]);
  });

  test('with a weld outside its procedure tells it; cut out itself it is nobody\'s', () => {
    const mark = { kind: 'out-of-specification', field: 'readings[0].printed', value: '240', limit: 'current: 160 to 200 A' } as const;
    expect(openOfRejoin({ ...sound, welds: [{ observedAt: at(10), marks: [mark] }] })).toEqual([`weld of ${at(10)}: 240, current: 160 to 200 A`]);
    expect(openOfRejoin({ ...sound, ends: IntervalSet.empty })).toEqual(['both its ends were cut out']);
  });
});
