import { describe, expect, test } from '@jest/globals';
import { coilExtentOf, containmentOf, foundOf, refuseIncomplete } from './nonconformance.rules.js';

type Said = Parameters<typeof refuseIncomplete>[0];

const found = {
  value: '4.61', unit: 'mm', method: 'ultrasonic', instrument: 'UT-04', at: '2026-03-02T09:15:00+01:00', by: 'finder',
};
const said: Said = {
  stringId: 'string', extents: [{ from: { footageMm: 212_000 }, to: { footageMm: 212_600 } }], found, stage: 'open',
};
const disposition = {
  kind: 'repair', text: 'Clamp sleeve', approvedBy: 'engineer', approvedAt: '2026-03-02T11:30:00Z',
} as const;

const refusedAt = (field: string) => expect.objectContaining({ status: 422, errors: [expect.objectContaining({ field })] });

describe('what makes a nonconformance whole', () => {
  test.each<[string, Partial<Said>]>([
    ['pipe of a string', {}],
    ['strip of a coil without a string', { stringId: null, extents: [], coilExtents: [{ coilId: 'a' }] }],
    ['strip to the tail, and to a place', { coilExtents: [{ coilId: 'a', stripFromMm: 5 }, { coilId: 'b', stripToMm: 5 }] }],
    ['words without a value', { found: { ...found, value: null, unit: null, text: 'Thin band along the seam' } }],
    ['an uncertainty beside its value', { found: { ...found, uncertainty: '0.02' } }],
    ['closed with a disposition', { stage: 'closed', disposition }],
  ])('%s is taken', (_, changes) => {
    expect(() => { refuseIncomplete({ ...said, ...changes }); }).not.toThrow();
  });

  test.each<[string, Partial<Said>]>([
    ['extents', { extents: [] }],
    ['stringId', { stringId: null }],
    ['coilExtents[1].stripToMm', { coilExtents: [{ coilId: 'a' }, { coilId: 'a', stripFromMm: 9, stripToMm: 9 }] }],
    ['found.value', { found: { ...found, value: null, unit: null } }],
    ['found.unit', { found: { ...found, unit: null } }],
    ['found.unit', { found: { ...found, value: null, text: 'Thin band' } }],
    ['found.uncertainty', { found: { ...found, value: null, unit: null, text: 'Thin band', uncertainty: '0.02' } }],
    ['disposition', { stage: 'closed' }],
    ['disposition.approvedBy', { disposition: { ...disposition, approvedBy: 'finder' } }],
  ])('refused at %s: %j', (field, changes) => {
    expect(() => { refuseIncomplete({ ...said, ...changes }); }).toThrow(refusedAt(field));
  });
});

describe('what is kept', () => {
  test('instants in their one spelling, absent parts as null', () => {
    expect(foundOf(found)).toEqual({ ...found, text: null, uncertainty: null, at: '2026-03-02T08:15:00.000000Z' });
    expect(containmentOf({ action: 'Line stopped', at: '2026-03-02T08:19:00.5Z', by: 'finder' })).toEqual({
      action: 'Line stopped', footageMm: null, at: '2026-03-02T08:19:00.500000Z', by: 'finder',
    });
    expect(coilExtentOf({ coilId: 'a', stripToMm: 5 })).toEqual({ coilId: 'a', stripFromMm: null, stripToMm: 5 });
  });
});
