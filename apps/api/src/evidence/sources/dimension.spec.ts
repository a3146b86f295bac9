import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { Inspection } from '../../inspections/inspection.entity.js';
import { reachOf, saidBy } from './dimension.source.js';

const row = (verdict: Inspection['verdict'], changes: Partial<Inspection> = {}): Inspection => Object.assign(new Inspection(), {
  id: 'i', version: 3, kind: 'dimensional', characteristic: 'wall thickness', value: '4.97', unit: 'mm', verdict, span: interval(500, 510), enteredAt: '2026-03-02T09:00:00.000000Z',
}, changes);
const said = (one: Inspection): string[] => saidBy(one, IntervalSet.of(interval(0, 1_000)), () => 600).map(({ says, fromMm, toMm, onTimeFromMm, because, records }) =>
  `${says} ${fromMm}-${toMm} on time from ${onTimeFromMm}: ${because} (${records.map(({ id, version }) => `${id} ${version}`).join()})`);

describe('what an inspection says', () => {
  test('accepted, of all its reach', () => {
    expect(said(row('accepted'))).toEqual(['confirmed 0-1000 on time from 600: wall thickness 4.97 mm: accepted (i 3)']);
    expect(said(row('accepted', { value: null, unit: null, characteristic: 'surface' }))[0]).toContain(': surface: accepted');
  });

  test('rejected, fails its own place and puts the rest of its reach in doubt', () => {
    expect(said(row('rejected'))).toEqual([
      'failed 500-510 on time from 600: wall thickness 4.97 mm: rejected (i 3)',
      'suspect 0-500 on time from 600: wall thickness 4.97 mm was rejected within the reach of this place (i 3)',
      'suspect 510-1000 on time from 600: wall thickness 4.97 mm was rejected within the reach of this place (i 3)',
    ]);
  });

  test('to be evaluated, puts its own place in doubt too', () => {
    expect(said(row('for-evaluation'))).toEqual(['suspect 0-1000 on time from 600: wall thickness 4.97 mm: to be evaluated (i 3)']);
  });
});

describe('the reach of a reading', () => {
  const coils = [interval(0, 1_000), interval(1_000, 3_000), interval(4_000, 5_000)].map((span) => ({ span }));
  const reach = (fromMm: number, toMm: number, reachMm: number): string => reachOf(interval(fromMm, toMm), reachMm, coils).toMultirange();

  test('is to both sides, and not below the beginning', () => {
    expect([reach(500, 510, 100), reach(50, 51, 100)]).toEqual(['{[400,610)}', '{[0,151)}']);
    expect(reach(500, 510, 0)).toBe('{[500,510)}');
  });

  test('ends with the coil that was read, and is in both where the reading is on both', () => {
    expect([reach(900, 910, 500), reach(1_000, 1_001, 500), reach(999, 1_000, 500)]).toEqual(['{[400,1000)}', '{[1000,1501)}', '{[499,1000)}']);
    expect(reach(990, 1_010, 100)).toBe('{[890,1110)}');
    expect(reach(2_900, 2_910, 500)).toBe('{[2400,3000)}');
  });

  test('on pipe of no known coil is the plan\'s, up to where a coil begins', () => {
    expect([reach(3_500, 3_510, 100), reach(3_500, 3_510, 700)]).toEqual(['{[3400,3610)}', '{[3000,4000)}']);
    expect(reachOf(interval(500, 510), 100, []).toMultirange()).toBe('{[400,610)}');
  });

  test('has the reading itself, also where it goes beyond its coil', () => {
    expect(reach(2_990, 3_020, 5)).toBe('{[2985,3020)}');
  });
});
