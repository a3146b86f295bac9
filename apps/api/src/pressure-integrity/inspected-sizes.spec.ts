import { describe, expect, test } from '@jest/globals';
import { microseconds } from '#libs/persistence';
import type { Inspection } from '../inspections/inspection.entity.js';
import type { Repair } from '../repairs/repair.entity.js';
import { inspectedDiameters, inspectedWalls, notRepairedSince } from './inspected-sizes.js';
import { Origins } from './origins.js';
import { yieldCodeIn } from './yield-strengths.service.js';

const inspection = (characteristic: string, value: string | null, changes: Partial<Inspection> = {}): Inspection => ({
  id: characteristic, version: 1, kind: 'dimensional', characteristic, value, unit: 'mm', span: { fromMm: 0, toMm: 100 }, observedAt: '2026-03-02T08:00:00Z', ...changes,
} as Inspection);
const repair = (fromMm: number, toMm: number, clock: string, remainingWallMm: string | null = null): Repair => ({
  id: `repair-${fromMm}`, version: 1, method: 'grinding', span: { fromMm, toMm }, observedAt: `2026-03-02T${clock}:00Z`, remainingWallMm,
} as Repair);
const told = (found: readonly { readonly interval: { readonly fromMm: number; readonly toMm: number }; readonly of: { readonly value: string } }[]): unknown[] =>
  found.map(({ interval: { fromMm, toMm }, of }) => [fromMm, toMm, of.value]);

describe('sizes read by hand', () => {
  test('are found by what was looked at, with a value in a unit of length', () => {
    const rows = [
      inspection('Wall thickness', '4.97'), inspection('minimum wall thickness at the seam', '4.80'), inspection('wall', '4.9'), inspection('outside diameter', '127.1'), inspection('OD', '5.01', { unit: 'in' }),
      inspection('inside diameter', '117'), inspection('coating thickness', '0.4'), inspection('bead height', '0.2'), inspection('wall thickness', '80', { unit: 'dB' }), inspection('wall thickness', null),
    ];
    expect(told(inspectedWalls(rows, [], new Origins()))).toEqual([[0, 100, '4.97'], [0, 100, '4.80'], [0, 100, '4.9']]);
    expect(told(inspectedDiameters(rows, [], new Origins()))).toEqual([[0, 100, '127.1'], [0, 100, '127.254']]);
  });

  test('say nothing of pipe that was repaired since, and a repair says what it left', () => {
    const repairs = [repair(20, 40, '09:00', '4.62'), repair(30, 35, '10:00'), repair(60, 70, '07:00')];
    expect(told(inspectedWalls([inspection('wall thickness', '4.97')], repairs, new Origins()))).toEqual([[0, 20, '4.97'], [40, 100, '4.97'], [20, 30, '4.62'], [35, 40, '4.62']]);
    expect(notRepairedSince(microseconds('2026-03-02T09:30:00Z'), { fromMm: 0, toMm: 100 }, repairs).toMultirange()).toBe('{[0,30),[35,100)}');
  });
});

describe('which yield strength a reading is', () => {
  test.each([
    ['Rp0.2, longitudinal', 'Rp0.2'], ['Rt0,5 transverse', 'Rt0.5'], ['weld ReH', 'ReH'], ['Rt0.65', 'Rt0.65'], ['Rm', null], ['yield', null], ['Rp0.25', null], ['ReHx', null],
  ])('%s: %s', (name, code) => { expect(yieldCodeIn(name)).toBe(code); });
});
