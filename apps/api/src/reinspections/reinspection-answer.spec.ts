import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { reinspection, type Outcome } from '#libs/reinspection';
import type { Repair } from '../repairs/repair.entity.js';
import { afterRepair } from './after-repair.js';
import type { RecordedLook, RecordedRepair } from './looks.js';
import { openInWords, pipeInWords } from './open-words.js';
import { openAfter, openOfRepairs, turnedDown } from './reinspection-answer.js';

const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
const mm = (fromMm: number, toMm: number): IntervalSet => IntervalSet.of(interval(fromMm, toMm));
const NOTHING = IntervalSet.empty;

const look = (minute: number, sizeMm: string | null, outcome: Outcome = 'accepted', reflector = 'notch-outside'): RecordedLook => ({
  record: { kind: 'examination', id: `look ${minute}`, version: 1, label: 'UT' }, on: mm(0, 50), atUs: microseconds(at(minute)), observedAt: at(minute), doneBy: 'p',
  method: 'UT', standsInFor: [], standIn: null, technique: 'UT-04', sensitivity: sizeMm === null ? null : { reflector, sizeMm }, outcome, seesFlaws: true,
});
const repair = (minute: number, marks: Repair['marks'] = []): RecordedRepair => ({ row: { marks } as Repair, record: { kind: 'repair', id: 'r', version: 1, label: 'grinding at 10 mm' }, on: mm(10, 20), atUs: microseconds(at(minute)) });

describe('what is open, in words', () => {
  const words = (...looks: RecordedLook[]): string[] => reinspection(repair(5), [repair(5)], looks, NOTHING).open.map(openInWords);

  test('names pipe, method, and both sensitivities', () => {
    expect(words()).toEqual(['10 to 20 mm: not looked at for flaws since']);
    expect(words(look(1, '0.5'), look(2, '1.0'), { ...look(3, null), method: 'VT' })).toEqual(['10 to 20 mm: not looked at for flaws since; done before and asked for again: UT, VT']);
    expect(words(look(1, '0.5'), look(6, '1.0'))).toEqual(['10 to 20 mm: UT since was less sensitive than before (before: notch-outside 0.5 mm; since: notch-outside 1.0 mm)']);
    expect(words(look(1, '0.5'), look(6, '0.1', 'accepted', 'wire'))).toEqual([
      '10 to 20 mm: UT since cannot be compared with that before: the sensitivity is stated by another reflector (before: notch-outside 0.5 mm; since: wire 0.1 mm)',
    ]);
    expect(words(look(1, '0.5'), look(6, null))).toEqual([
      '10 to 20 mm: UT since cannot be compared with that before: its sensitivity is not stated on both sides (before: notch-outside 0.5 mm; since: none stated (UT-04))',
    ]);
    expect(words(look(1, '0.5'), { ...look(6, '0.5'), method: 'MT' })).toEqual(['10 to 20 mm: UT was done before and not since']);
  });

  test('names when it was held or rejected, whatever was said later', () => {
    expect(words(look(6, '0.5', 'rejected'), look(7, '0.5'))).toEqual([`10 to 20 mm: UT of ${at(6)} rejected it`]);
    expect(words(look(6, '0.5', 'held'))).toEqual([`10 to 20 mm: UT of ${at(6)} held it`]);
  });

  test('counts what is more than can be read', () => {
    const many = IntervalSet.from(Array.from({ length: 7 }, (_, nth) => interval(10 * nth, 10 * nth + 1)));
    expect(pipeInWords(many)).toBe('0 to 1 mm, 10 to 11 mm, 20 to 21 mm, 30 to 31 mm, 40 to 41 mm and 2 more');
  });
});

describe('what is open after a repair', () => {
  const thin = { kind: 'out-of-specification', field: 'remainingWallMm', value: '4.31', limit: 'at least 4.50 mm' } as const;
  const noted = { kind: 'noted', field: 'depthRemovedMm', value: 'not reported', limit: 'measured after grinding' } as const;
  const open = (removed: IntervalSet): unknown => {
    const one = repair(5, [thin, noted]);
    return openAfter(one, removed, afterRepair(one, { repairs: [one], welds: [], removed }, [look(6, '0.5')])).map(({ reason, words, on }) => [reason, words, on]);
  };

  test('is what it left beyond its limit too, until that pipe is cut out', () => {
    expect(open(NOTHING)).toEqual([['beyond-limit', '10 to 20 mm: remainingWallMm 4.31, at least 4.50 mm', [{ fromMm: 10, toMm: 20 }]]]);
    expect(open(mm(0, 15))).toEqual([['beyond-limit', '15 to 20 mm: remainingWallMm 4.31, at least 4.50 mm', [{ fromMm: 15, toMm: 20 }]]]);
    expect(open(mm(0, 20))).toEqual([]);
  });

  test('is told with the repair', () => {
    expect(openOfRepairs([{ repair: repair(1).record, at: at(1), open: ['a', 'b'] }, { repair: repair(2).record, at: at(2), open: [] }]))
      .toEqual([`grinding at 10 mm of ${at(1)}: a`, `grinding at 10 mm of ${at(1)}: b`]);
  });
});

test('what examinations turned down stays told until it is repaired, and was no word on what was welded later', () => {
  const made = { on: mm(0, 50), atUs: microseconds(at(2)) };
  const rejected = look(3, null, 'rejected');
  const words = (since: number, repairs: RecordedRepair[], ...looks: RecordedLook[]): string[] => turnedDown({ ...made, atUs: since }, repairs, looks).map(openInWords);
  expect(words(made.atUs, [], rejected, look(4, null))).toEqual([`0 to 50 mm: UT of ${at(3)} rejected it`]);
  expect(words(made.atUs, [repair(5)], rejected)).toEqual([`0 to 10 mm, 20 to 50 mm: UT of ${at(3)} rejected it`]);
  expect(words(microseconds(at(3)) + 1, [], rejected)).toEqual([]);
  expect(words(-Infinity, [], look(1, null))).toEqual([]);
  // Of the very instant of the weld: nobody knows which of the two it saw.
  expect(words(microseconds(at(3)), [], rejected)).toEqual([`0 to 50 mm: UT of ${at(3)} rejected it`]);
  // Held, then passed by a coarser look of the same method.
  expect(words(made.atUs, [], look(3, '0.5', 'held'), look(4, '5.0'))).toEqual([`0 to 50 mm: UT of ${at(3)} held it`]);
});
