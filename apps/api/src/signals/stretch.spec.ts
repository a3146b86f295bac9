import { expect, test } from '@jest/globals';
import { LineKnowledge } from '../line/line-knowledge.js';
import { ChannelDirectory } from './channel-directory.js';
import { samplesOffPipe, stretchesOf } from './stretch.js';

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

test('samples whose counter read beyond any pipe are told, and those before them are not', () => {
  const directory = new ChannelDirectory();
  directory.know({ id: 'u', runId: 'r', position: 'counter', decimals: 0 });
  const add = (firstPosition: number, lastPosition: number, fromUs: number): void => {
    directory.add({ uploadId: 'u', samples: 1_001, firstPosition, lastPosition, fromUs, toUs: fromUs, unread: 0, knownUs: 0 });
  };
  const placing = {
    line: new LineKnowledge({
      masterCounter: 'C', setups: [], cutOuts: [], periods: [{
        record: { kind: 'counter-period', id: 'p', version: 1 }, counter: 'C', during: { from: '1960-01-01T00:00:00Z', until: null }, startReading: 0, start: { kind: 'established', footageMm: 0 },
        scaleMmPerCount: 1, scaleRelativeU: 0.001,
      }],
    }),
    station: null, counterOf: () => 'C', logOf: () => ({ timesUs: [], footagesMm: [] }),
  };
  add(0, 1_000, 1);
  expect(samplesOffPipe(stretchesOf(directory, 1, placing))).toBe(0);
  // The second half of one block, and all of the next.
  add(2 ** 31 - 1_000, 2 ** 31 + 1_000, 2);
  add(2 ** 40, 2 ** 40 + 1_000, 3);
  expect(stretchesOf(directory, 3, placing)).toMatchObject({ beyondPipe: 1_001 + 501, unplaced: [] });
  expect(samplesOffPipe(stretchesOf(directory, 2, placing))).toBe(501);
});
