import { describe, expect, test } from '@jest/globals';
import { interval } from '#libs/intervals';
import { Examination } from '../../examinations/examination.entity.js';
import { byHandAtJoints, type MadeJoint } from './by-hand.js';

const at = (hour: number): string => `2026-03-02T${String(hour).padStart(2, '0')}:00:00.000000Z`;
const examined = (hour: number, fromMm: number, toMm: number, changes: Partial<Examination> = {}): Examination =>
  Object.assign(new Examination(), { id: `e${hour}`, method: 'UT', outcome: 'accepted', standsInFor: [], span: { fromMm, toMm }, observedAt: at(hour) }, changes);

const SPLICE: MadeJoint = { kind: 'splice', span: interval(2_000, 2_300), madeAt: at(8) };
const REJOIN: MadeJoint = { kind: 're-join', span: interval(4_000, 4_500), madeAt: at(8) };

const seen = (joint: MadeJoint, ...examinations: readonly Examination[]): string[] =>
  byHandAtJoints([joint], 'UT', examinations).map(({ examination, on }) => `${examination.id} ${on.toMultirange()}`);

describe('an examination by hand in place of a channel', () => {
  test('counts where it was accepted, is over the joint and later than it', () => {
    expect(seen(SPLICE, examined(9, 1_900, 2_400))).toEqual(['e9 {[1900,2400)}']);
    expect(seen(SPLICE, examined(8, 1_900, 2_400))).toEqual([]);
    expect(seen(SPLICE, examined(9, 1_900, 2_400, { outcome: 'held' }))).toEqual([]);
    expect(seen(SPLICE, examined(9, 1_900, 2_000), examined(10, 2_300, 2_400))).toEqual([]);
    expect(seen(SPLICE, examined(9, 1_900, 2_001))).toEqual(['e9 {[1900,2001)}']);
  });

  test('is by the method of the channel, or by one that stands in for it; a channel of no method has none', () => {
    expect(seen(SPLICE, examined(9, 1_900, 2_400, { method: 'RT' }))).toEqual([]);
    expect(seen(SPLICE, examined(9, 1_900, 2_400, { method: 'RT', standsInFor: ['UT'] }))).toEqual(['e9 {[1900,2400)}']);
    expect(byHandAtJoints([SPLICE], null, [examined(9, 1_900, 2_400)])).toEqual([]);
  });

  test('at a re-join tells of both ends, whichever it is given at', () => {
    expect(seen(REJOIN, examined(9, 3_900, 4_000))).toEqual(['e9 {[3900,4501)}']);
    expect(seen(REJOIN, examined(9, 4_500, 4_600))).toEqual(['e9 {[3999,4600)}']);
    expect(seen(REJOIN, examined(9, 3_000, 3_900))).toEqual([]);
  });

  test('loses what was turned down since, or at the same instant; what was turned down before was looked at again', () => {
    const accepted = examined(10, 1_900, 2_400);
    for (const outcome of ['held', 'rejected'] as const) {
      expect(seen(SPLICE, accepted, examined(11, 2_200, 2_250, { outcome }))).toEqual(['e10 {[1900,2200),[2250,2400)}']);
      expect(seen(SPLICE, accepted, examined(10, 2_200, 2_250, { outcome, id: 'same' }))).toEqual(['e10 {[1900,2200),[2250,2400)}']);
      expect(seen(SPLICE, accepted, examined(9, 2_200, 2_250, { outcome }))).toEqual(['e10 {[1900,2400)}']);
    }
    expect(seen(SPLICE, accepted, examined(11, 2_200, 2_250, { outcome: 'rejected', method: 'RT' }))).toEqual(['e10 {[1900,2400)}']);
  });

  test('loses what was turned down beside the weld too', () => {
    expect(seen(SPLICE, examined(10, 1_900, 2_400), examined(11, 2_310, 2_350, { outcome: 'rejected' }))).toEqual(['e10 {[1900,2310),[2350,2400)}']);
  });
});
