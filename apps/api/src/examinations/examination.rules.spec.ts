import { describe, expect, test } from '@jest/globals';
import { examinationFaults, notAfter } from './examination.rules.js';

describe('an examination', () => {
  type Said = Parameters<typeof examinationFaults>[0];
  const fields = (said: Partial<Said>): string[] => examinationFaults({ method: 'UT', standsInFor: [], ...said }, 'examiner').map(({ field }) => field);

  test('states a reflector with its size, or neither', () => {
    expect(fields({})).toEqual([]);
    expect(fields({ reflector: 'wire', reflectorSizeMm: '0.2' })).toEqual([]);
    expect(fields({ reflector: 'wire' })).toEqual(['reflectorSizeMm']);
    expect(fields({ reflectorSizeMm: '0.2' })).toEqual(['reflector']);
  });

  test('is of one thing at most', () => {
    expect(fields({ repairId: 'a' })).toEqual([]);
    expect(fields({ spliceId: 'a', rejoinId: null, repairId: 'b' })).toEqual(['repairId']);
    expect(fields({ spliceId: 'a', rejoinId: 'c', repairId: 'b' })).toEqual(['rejoinId', 'repairId']);
  });

  test('stands in for another method by the word of another person, with a reason', () => {
    const standIn = { standsInFor: ['RT'], standInReason: 'No film can be laid inside the pipe', standInBy: 'level 3' } satisfies Partial<Said>;
    expect(fields(standIn)).toEqual([]);
    expect(fields({ ...standIn, standInReason: null, standInBy: null })).toEqual(['standInReason', 'standInBy']);
    expect(fields({ ...standIn, standsInFor: [] })).toEqual(['standInReason', 'standInBy']);
    expect(fields({ ...standIn, standsInFor: ['RT', 'UT'] })).toEqual(['standsInFor']);
    expect(fields({ ...standIn, standInBy: 'examiner' })).toEqual(['standInBy']);
  });

  test('that names a repair comes after it; the same instant, however it is written, is not after', () => {
    expect(notAfter('2026-03-02T08:15:00.000001Z', '2026-03-02T08:15:00.000000Z')).toEqual([]);
    expect(notAfter('2026-03-02T09:15:00+01:00', '2026-03-02T08:15:00.000000Z')).toMatchObject([{ tier: 'noted', field: 'observedAt' }]);
    expect(notAfter('2026-03-02T08:00:00Z', '2026-03-02T08:15:00.000000Z')).toHaveLength(1);
  });
});
