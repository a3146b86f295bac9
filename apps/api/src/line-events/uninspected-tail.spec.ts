import { expect, test } from '@jest/globals';
import { IntervalSet } from '#libs/intervals';
import type { Channel } from '../channels/channel.entity.js';
import type { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { uninspectedTail } from './uninspected-tail.js';

const channel = { id: 'A', name: 'A', version: 1, observedAt: '2026-03-02T05:00:00.000000Z', station: 'head' } as Channel;
const run = (id: string, begins: string, ends: string | null): InspectionRun => ({
  id, version: 1, channelIds: ['A'], observedAt: `2026-03-02T${begins}:00.000000Z`, endedAt: ends === null ? null : `2026-03-02T${ends}:00.000000Z`,
} as unknown as InspectionRun);
const told = (...runs: readonly InspectionRun[]): unknown[] => {
  const { state, lastRun } = uninspectedTail(channel, { madeMm: 100_000, passedMm: 75_000 }, IntervalSet.empty, runs);
  return [state, lastRun?.id ?? null];
};

test('a run that nobody ended has the tail inspected no more, once another one began after it', () => {
  expect(told(run('first', '06:00', null))).toEqual(['not-yet', null]);
  expect(told(run('first', '06:00', null), run('second', '12:00', '18:00'))).toEqual(['runs-ended', 'second']);
  expect(told(run('second', '12:00', null), run('first', '06:00', '11:00'))).toEqual(['not-yet', null]);
});
