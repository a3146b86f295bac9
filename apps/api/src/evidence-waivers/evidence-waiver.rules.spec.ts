import { expect, test } from '@jest/globals';
import { concessionFindings, waiverFaults } from './evidence-waiver.rules.js';

test('a waiver has a place, and a nonconformance only and always where it is a concession', () => {
  type Said = Parameters<typeof waiverFaults>[0];
  const fields = (said: Partial<Said>): string[] => waiverFaults({ from: { footageMm: 100 }, to: { footageMm: 200 }, basis: 'waiver', ...said }).map(({ field }) => field);
  expect(fields({})).toEqual([]);
  expect(fields({ to: null, basis: 'concession', nonconformanceId: 'n' })).toEqual([]);
  expect(fields({ to: { footageMm: 100 }, nonconformanceId: 'n' })).toEqual(['to', 'nonconformanceId']);
  expect(fields({ basis: 'concession' })).toEqual(['nonconformanceId']);
});

test('a concession of more pipe than its nonconformance concerns is marked', () => {
  const of = (...extent: { fromMm: number; toMm: number }[]): unknown[] => concessionFindings({ fromMm: 100, toMm: 200 }, { id: 'n', extent });
  expect([of({ fromMm: 100, toMm: 200 }), of({ fromMm: 0, toMm: 50 }, { fromMm: 99, toMm: 300 }), of()]).toEqual([[], [], []]);
  const marked = [{ tier: 'noted', field: 'nonconformanceId', value: 'n', limit: 'one that concerns all of this pipe' }];
  expect([of({ fromMm: 101, toMm: 200 }), of({ fromMm: 0, toMm: 150 }, { fromMm: 151, toMm: 200 })]).toEqual([marked, marked]);
});
