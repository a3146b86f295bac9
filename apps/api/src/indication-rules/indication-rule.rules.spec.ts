import { describe, expect, test } from '@jest/globals';
import type { IndicationRuleChannelPart } from './indication-rule.dto.js';
import { pitchMmOf, ruleFaults, ruleOf, speechFaults } from './indication-rule.rules.js';

const channel = (changes: Partial<IndicationRuleChannelPart> = {}): IndicationRuleChannelPart => ({ channelId: 'a', sense: 'above', threshold: '50', release: '30', ...changes });
const faults = (...channels: IndicationRuleChannelPart[]): string[] => ruleFaults({ channels }).map(({ field }) => field);

describe('what contradicts itself in a rule', () => {
  test('nothing, with the release level at the threshold or within it', () => {
    expect(faults(channel(), channel({ channelId: 'b', release: '50.0' }), channel({ channelId: 'c', sense: 'below', threshold: '4.6', release: '4.8' }))).toEqual([]);
  });

  test('a channel twice, and a release level beyond the threshold by any digit', () => {
    expect(faults(channel(), channel())).toEqual(['channels[1].channelId']);
    expect(faults(channel({ release: '50.000000001' }))).toEqual(['channels[0].release']);
    expect(faults(channel({ sense: 'below', threshold: '4.6', release: '4.599' }))).toEqual(['channels[0].release']);
  });

  test('one channel made one with others', () => {
    expect(ruleFaults({ channels: [channel()], jointMm: 0 }).map(({ field }) => field)).toEqual(['jointMm']);
    expect(ruleFaults({ channels: [channel(), channel({ channelId: 'b' })], jointMm: 0 })).toEqual([]);
  });
});

describe('how far a sample speaks', () => {
  const perTime = { sampling: { per: 'time', everyMs: '10' }, speedWindow: { fromMPerMin: '2', toMPerMin: '12' } } as const;

  test('is to the next one, half as far again and a millimetre more; by time, at the greatest speed of the technique', () => {
    expect(pitchMmOf({ sampling: { per: 'length', everyMm: '1' }, speedWindow: null })).toBe(2);
    expect(pitchMmOf({ sampling: { per: 'length', everyMm: '2.5' }, speedWindow: null })).toBe(4);
    // 12 m/min are 0.2 mm/ms: 2 mm in 10 ms.
    expect(pitchMmOf(perTime)).toBe(4);
    expect(pitchMmOf({ sampling: { per: 'length', everyMm: '10' }, speedWindow: null })).toBe(16);
  });

  test('has to be said where neither tells', () => {
    const mute = { ...perTime, speedWindow: null };
    expect(pitchMmOf(mute)).toBeNull();
    expect(speechFaults([{}, { speaksForMm: 4 }, {}], [mute, mute, perTime]).map(({ field }) => field)).toEqual(['channels[0].speaksForMm']);
  });
});

test('a rule is computed with its numbers', () => {
  expect(ruleOf({ minimumLengthMm: 1, combiningMm: 2, bridgedGapMm: 3 }, channel({ threshold: '50.5' }))).toEqual({
    sense: 'above', threshold: 50.5, release: 30, minimumLengthMm: 1, combiningMm: 2, bridgedGapMm: 3,
  });
});
