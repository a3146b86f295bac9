import { describe, expect, test } from '@jest/globals';
import { runFaults, runFindings, standardFindings, strangeChannels } from './inspection-run.rules.js';

type Said = Parameters<typeof runFaults>[0];
const START = '2026-03-02T08:00:00.000000Z';
const fields = (said: Partial<Said>): string[] => runFaults({ observedAt: START, channelIds: ['a', 'b'], settings: [], ...said }).map(({ field }) => field);

describe('what does not go together in a run', () => {
  test('nothing, while it goes on or once it ended', () => {
    expect(fields({ settings: [{ channelId: 'b', gainDb: '42.5' }, { channelId: 'a' }] })).toEqual([]);
    expect(fields({ endedAt: '2026-03-02T08:00:00.000001Z', endReason: 'End of shift' })).toEqual([]);
  });

  test('an end that is not after the start, and a reason of no end', () => {
    expect(fields({ endedAt: '2026-03-02T09:00:00+01:00' })).toEqual(['endedAt']);
    expect(fields({ endedAt: '2026-03-02T07:59:59Z', endReason: 'End of shift' })).toEqual(['endedAt']);
    expect(fields({ endReason: 'End of shift' })).toEqual(['endReason']);
  });

  test('a channel twice, a setting twice, a setting of another channel', () => {
    expect(fields({ channelIds: ['a', 'b', 'a', 'a'] })).toEqual(['channelIds[2]', 'channelIds[3]']);
    expect(fields({ settings: [{ channelId: 'a' }, { channelId: 'c' }, { channelId: 'a' }] })).toEqual(['settings[1].channelId', 'settings[2].channelId']);
  });
});

test('a record of a run names its channels only', () => {
  expect(strangeChannels({ 'channelIds[0]': 'a', 'channelIds[1]': 'c' }, { channelIds: ['a', 'b'] })).toMatchObject([{ field: 'channelIds[1]', value: 'c' }]);
});

describe('another run of a channel at the same time', () => {
  const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
  const times = (from: number, to: number | null, ...channelIds: string[]) => ({ id: 'other', observedAt: at(from), endedAt: to === null ? null : at(to), channelIds });
  const noted = (one: ReturnType<typeof times>, ...others: ReturnType<typeof times>[]): number => runFindings(one, others).length;

  test('is noted once, and one that only touches, or of other channels, is not', () => {
    expect(noted(times(8, 10, 'a'), times(9, 11, 'b', 'a'))).toBe(1);
    expect(noted(times(8, 10, 'a'), times(9, 11, 'a'), times(7, 9, 'a'))).toBe(1);
    expect(noted(times(8, 10, 'a'), times(10, null, 'a'), times(6, 8, 'a'), times(8, 10, 'b'))).toBe(0);
    expect(noted(times(8, null, 'a'), times(12, 13, 'a'))).toBe(1);
    expect(noted(times(8, 9, 'a'), times(6, null, 'a'))).toBe(1);
  });
});

test('a standard that is none is noted', () => {
  expect(standardFindings({ kind: 'reference-standard', number: 'RS-1' })).toEqual([]);
  expect(standardFindings(null)).toEqual([]);
  expect(standardFindings({ kind: 'gauge', number: 'MI-07' })).toMatchObject([{ tier: 'noted', field: 'standardId', value: 'MI-07' }]);
});
