import { expect, test } from '@jest/globals';
import { handoverFindings } from './handover.rules.js';

const shift = { name: 'day', observedAt: '2026-03-02T06:00:00.000000Z', until: '2026-03-02T17:00:00.000000Z', crew: [{ personId: 'lead', duty: 'Shift lead' }] };
const next = { ...shift, name: 'night', observedAt: '2026-03-02T17:00:00.000000Z', until: null };
const given = { doneBy: 'lead', observedAt: '2026-03-02T16:50:00.000000Z', nextShiftId: 'next' };

const found = (...args: Parameters<typeof handoverFindings>): unknown[] => handoverFindings(...args).map(({ tier, field }) => [tier, field]);

test('a handover by one of the crew, in or after the shift, is as it should be', () => {
  expect(found(given, shift, next)).toEqual([]);
  expect(found({ ...given, observedAt: '2026-03-02T17:20:00.000000Z' }, shift, null)).toEqual([]);
});

test('one by somebody else is marked; one from before the shift, or to an earlier one, is asked about', () => {
  expect(found({ ...given, doneBy: 'visitor' }, shift, next)).toEqual([['noted', 'doneBy']]);
  expect(found({ ...given, observedAt: '2026-03-02T05:59:59.999999Z' }, shift, next)).toEqual([['implausible', 'observedAt']]);
  expect(found(given, shift, { ...next, observedAt: '2026-03-01T17:00:00.000000Z' })).toEqual([['implausible', 'nextShiftId']]);
});
