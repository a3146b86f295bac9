import { expect, test } from '@jest/globals';
import { changedRun, detectionFaults } from './detection.rules.js';

const NOW = '2026-03-02T09:00:00.000000Z';

test('a detection looks at an interval that is none the wrong way, at what is known by now', () => {
  const faults = (said: Partial<Parameters<typeof detectionFaults>[0]>): string[] => detectionFaults({ ruleId: 'r', ...said }, NOW).map(({ field }) => field);
  expect([faults({}), faults({ fromMm: 5 }), faults({ toMm: 1 }), faults({ fromMm: 5, toMm: 6, asKnownAt: NOW })]).toEqual([[], [], [], []]);
  expect(faults({ fromMm: 5, toMm: 5, asKnownAt: '2026-03-02T10:00:00.000001+01:00' })).toEqual(['toMm', 'asKnownAt']);
});

test('an amendment changes nothing of what it was run with, however an instant is written', () => {
  const stands = { ruleId: 'r', fromMm: null, toMm: 9, asKnownAt: NOW };
  const changed = (said: Partial<Parameters<typeof changedRun>[0]>): string[] => changedRun({ ruleId: 'r', toMm: 9, asKnownAt: '2026-03-02T10:00:00+01:00', ...said }, stands).map(({ field }) => field);
  expect(changed({})).toEqual([]);
  expect(changed({ ruleId: 's', fromMm: 0, toMm: null, asKnownAt: null })).toEqual(['ruleId', 'fromMm', 'toMm', 'asKnownAt']);
});
