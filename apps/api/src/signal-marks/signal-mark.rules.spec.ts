import { expect, test } from '@jest/globals';
import { markFaults } from './signal-mark.rules.js';

test('a mark has a place, each channel once, and a cause in words where it is another one', () => {
  type Said = Parameters<typeof markFaults>[0];
  const fields = (said: Partial<Said>): string[] =>
    markFaults({ from: { footageMm: 100 }, to: { footageMm: 200 }, channelIds: ['a', 'b'], cause: 'probe-lifted', ...said }).map(({ field }) => field);
  expect(fields({})).toEqual([]);
  expect(fields({ to: null, cause: 'other', note: 'Coolant on the probe' })).toEqual([]);
  expect(fields({ to: { footageMm: 100 }, channelIds: ['a', 'b', 'a'], cause: 'other' })).toEqual(['to', 'channelIds[2]', 'note']);
});
