import { describe, expect, test } from '@jest/globals';
import type { IndicationInput } from './indication.dto.js';
import { changedAsDetected, indicationFaults } from './indication.rules.js';

type Said = Pick<IndicationInput, 'from' | 'to' | 'channelIds' | 'method' | 'peak' | 'peakUnit' | 'peakIsBound'>;
const said = (changes: Partial<Said> = {}): Said => ({
  from: { footageMm: 5 }, to: { footageMm: 9 }, channelIds: ['a', 'b'], method: 'ET', peak: '78.4', peakUnit: '%', peakIsBound: false, ...changes,
});

describe('an indication', () => {
  const faults = (changes: Partial<Said>, isDetected = false): string[] => indicationFaults(said(changes), isDetected).map(({ field }) => field);

  test('names the method it was seen by, unless a detection opened it', () => {
    expect([faults({}), faults({ method: null }), faults({ method: null }, true)]).toEqual([[], ['method'], []]);
  });

  test('says of a peak its unit and whether it is a bound, and neither without one', () => {
    expect(faults({ peakUnit: null, peakIsBound: null })).toEqual(['peakUnit', 'peakIsBound']);
    expect(faults({ peak: null })).toEqual(['peakUnit', 'peakIsBound']);
    expect(faults({ peak: null, peakUnit: null, peakIsBound: null })).toEqual([]);
    expect(faults({ channelIds: ['a', 'a'] })).toEqual(['channelIds']);
  });
});

test('what a detection found is told field by field where it would change; what is left out is no change', () => {
  const stands = { ...said(), to: said().to ?? null, method: 'ET', peak: '78.4', peakUnit: '%', peakIsBound: false } as const;
  const changed = (changes: Partial<Said>): string[] => changedAsDetected(said(changes), stands).map(({ field }) => field);
  expect(changed({ from: { footageMm: 5, counter: null, uMm: null } })).toEqual([]);
  expect(changed({ from: { footageMm: 6 }, to: null, channelIds: ['b', 'a'], method: 'UT', peak: null, peakUnit: 'mm', peakIsBound: true })).toEqual([
    'from', 'to', 'channelIds', 'method', 'peak', 'peakUnit', 'peakIsBound',
  ]);
});
