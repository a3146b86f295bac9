import { describe, expect, test } from '@jest/globals';
import type { Channel } from '../channels/channel.entity.js';
import type { DirectoryBlock } from './channel-directory.js';
import { Speech } from './speech.js';
import type { Stretch } from './stretch.js';

const along = (mmPerCount: number): Stretch => ({
  runId: '', fromBlock: 0, toBlock: 1, falls: false, positionsRise: true, footageRises: true, fromUs: 0, toUs: 1, fromPosition: -Infinity, toPosition: Infinity, by: null, isStraight: () => true,
  footageOf: (position) => position * mmPerCount, positionOf: (mm) => mm / mmPerCount,
});
const speech = (sampling: Channel['sampling'], mmPerCount = 1): Speech => new Speech({ sampling, speedWindow: null }, along(mmPerCount));
const block = (firstPosition: number, lastPosition: number, fromUs: number, toUs: number): DirectoryBlock => ({
  samples: 101, firstPosition, lastPosition, fromUs, toUs, unread: 0, knownUs: 0, upload: { id: '', runId: '', position: 'counter', decimals: 0 },
});

describe('what samples speak for', () => {
  test('is not all of a block of which two metres were skipped', () => {
    const byMillimetre = speech({ per: 'length', everyMm: '1' });
    expect([4_095, 4_096, 6_094].map((last) => byMillimetre.isEven(0, last, 4_096))).toEqual([true, false, false]);
    // Samples that come closer than they should do not make up for it.
    expect(byMillimetre.isEven(0, 2_500, 4_096)).toBe(false);
  });

  test('is all of a block that has a sample every count, also where a count is not a millimetre', () => {
    const [longer, shorter] = [1.002, 0.9985].map((mmPerCount) => speech({ per: 'length', everyMm: '1' }, mmPerCount));
    expect([longer?.isEven(0, 4_095, 4_096), longer?.isEven(0, 4_110, 4_096), shorter?.isEven(4_095, 0, 4_096), shorter?.isEven(0, 4_110, 4_096)]).toEqual([true, false, true, false]);
  });

  test('by time along a counter ends where a part did not come, and goes on over a stop', () => {
    const byTime = speech({ per: 'time', everyMs: '100' });
    const first = block(0, 1_000, 0, 10_000_000);
    expect(byTime.goesOn(first, block(1_010, 2_010, 10_100_000, 20_100_000))).toBe(true);
    expect(byTime.goesOn(first, block(1_010, 2_010, 900_000_000, 910_000_000))).toBe(true);
    expect(byTime.goesOn(first, block(2_020, 3_020, 20_200_000, 30_200_000))).toBe(false);
  });

  test('by time along a counter leaves out what was broken off', () => {
    const byTime = speech({ per: 'time', everyMs: '100' });
    for (const position of [0, 10, 20]) byTime.between(position, position);
    byTime.breakOff();
    for (const position of [50, 60]) byTime.between(position, position);
    expect(byTime.intervals()).toEqual([{ fromMm: 0, toMm: 20 }, { fromMm: 50, toMm: 60 }]);
  });

  test('by time along a counter leaves a gap where more pipe went by than the window of speed lets', () => {
    // 100 ms at 6 m/min are 10 mm; half as much again, and one, is 16.
    const windowed = (): Speech => new Speech({ sampling: { per: 'time', everyMs: '100' }, speedWindow: { fromMPerMin: '2', toMPerMin: '6' } }, along(1));
    const spoken = (...samples: readonly number[]): number[][] => {
      const speaking = windowed();
      for (const mm of samples) speaking.between(mm, mm);
      return speaking.intervals().map(({ fromMm, toMm }) => [fromMm, toMm]);
    };
    expect(spoken(0, 10, 26, 8_026, 8_036)).toEqual([[0, 26], [8_026, 8_036]]);
    expect(spoken(0, 17)).toEqual([[0, 1], [17, 18]]);
    expect([windowed().isEven(0, 1_600, 101), windowed().isEven(0, 1_601, 101)]).toEqual([true, false]);
  });
});
