import { expect, test } from '@jest/globals';
import { LineKnowledge } from '../line/line-knowledge.js';
import { ChannelDirectory } from './channel-directory.js';
import { stretchesOf } from './stretch.js';

test('samples by time that no set-up places are counted once, however often the pipe turned in their block', () => {
  const directory = new ChannelDirectory();
  directory.know({ id: 'u', runId: 'r', position: 'time', decimals: 0 });
  directory.add({ uploadId: 'u', samples: 1_000, firstPosition: 0, lastPosition: 1_000_000, fromUs: 0, toUs: 1_000_000, unread: 0, knownUs: 0 });
  const timesUs = Array.from({ length: 11 }, (_, index) => index * 100_000);
  const placing = {
    line: new LineKnowledge({ masterCounter: 'C', periods: [], setups: [], cutOuts: [] }), station: 'nowhere', counterOf: () => 'C',
    logOf: () => ({ timesUs, footagesMm: timesUs.map((_, index) => (index % 2) * 500) }),
  };
  const { stretches, unplaced } = stretchesOf(directory, 1, placing);
  expect([stretches, unplaced.length, new Set(unplaced.map(({ why }) => why))]).toEqual([[], 10, new Set(['no-line-setup'])]);
  expect(unplaced.reduce((sum, { samples }) => sum + samples, 0)).toBe(1_000);
});
