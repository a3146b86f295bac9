import { expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Outcome } from '#libs/reinspection';
import type { RecordedLook, RecordedRepair } from '../reinspections/looks.js';
import { turnedDownOnSplice } from './turned-down-on-splice.js';

const at = (minute: number): string => `2026-03-02T08:${String(minute).padStart(2, '0')}:00.000000Z`;
const SPLICE = IntervalSet.of(interval(100, 500));
const WELDED = { on: SPLICE, atUs: microseconds(at(10)) };

const look = (kind: string, minute: number, method: string, outcome: Outcome, changes: Partial<RecordedLook> = {}): RecordedLook => ({
  record: { kind, id: `${kind} ${minute}`, version: 1, label: method }, on: SPLICE, atUs: microseconds(at(minute)), observedAt: at(minute), doneBy: 'p',
  method, standsInFor: [], standIn: null, technique: `${method}-02`, sensitivity: null, outcome, seesFlaws: true, ...changes,
});
const inStep = (minute: number, method: string, outcome: Outcome, changes: Partial<RecordedLook> = {}): RecordedLook => look('splice-step', minute, method, outcome, changes);
const repair = (minute: number, on = IntervalSet.of(interval(200, 300))): RecordedRepair => ({
  row: {} as RecordedRepair['row'], record: { kind: 'repair', id: 'r', version: 1, label: 'weld-repair' }, on, atUs: microseconds(at(minute)),
});
const open = (repairs: RecordedRepair[], ...looks: RecordedLook[]): string[] => turnedDownOnSplice(WELDED, repairs, looks);

test('a hold within a step stays until its method decides, by a step or an examination of its own; another method does not', () => {
  const held = inStep(20, 'RT', 'held');
  const words = [`100 to 500 mm: RT of ${at(20)} held it`];
  expect([open([], held), open([], held, inStep(25, 'VT', 'accepted')), open([], held, inStep(20, 'RT', 'accepted'))]).toEqual([words, words, words]);
  expect(open([], held, inStep(25, 'RT', 'accepted', { technique: 'RT-03' }))).toEqual(words);
  expect(open([], held, inStep(25, 'RT', 'accepted'))).toEqual([]);
  expect(open([], held, look('examination', 25, 'RT', 'accepted', { on: IntervalSet.of(interval(0, 400)) }))).toEqual([`400 to 500 mm: RT of ${at(20)} held it`]);
});

test('a rejection within a step stays until it was repaired and its method passed it after that', () => {
  const rejected = inStep(20, 'RT', 'rejected');
  const passed = inStep(40, 'RT', 'accepted');
  expect(open([], rejected, passed)).toEqual([`100 to 500 mm: RT of ${at(20)} rejected it`]);
  // What was repaired is told of the repair.
  expect(open([repair(30)], rejected)).toEqual([`100 to 200 mm, 300 to 500 mm: RT of ${at(20)} rejected it`]);
  expect(open([repair(30)], rejected, inStep(40, 'VT', 'accepted'))).toHaveLength(1);
  expect(open([repair(40)], rejected, passed)).toHaveLength(1);
  expect(open([repair(15)], rejected, passed)).toHaveLength(1);
  expect(open([repair(30)], rejected, passed)).toEqual([]);
  // An examination of its own has a place: only what was repaired there is settled.
  expect(open([repair(30)], look('examination', 20, 'RT', 'rejected'), passed)).toEqual([`100 to 200 mm, 300 to 500 mm: RT of ${at(20)} rejected it`]);
});

test('what was seen before the last weld is no word on it; what was turned down at its very instant stays told', () => {
  expect(open([], inStep(9, 'RT', 'rejected'))).toEqual([]);
  expect(open([], inStep(10, 'RT', 'rejected'))).toEqual([`100 to 500 mm: RT of ${at(10)} rejected it`]);
});
