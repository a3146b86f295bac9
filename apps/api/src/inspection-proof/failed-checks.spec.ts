import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { provenChannel, type KnownChannel } from './channel-proof.js';
import { doubtsOf, proposedNonconformances, sinceText } from './failed-checks.js';
import { at, atUs, channel, check, run, track } from './inspection-proof.factory.js';

const ON_HAND = IntervalSet.of(interval(0, 20_000));
const RUN = { runs: [run('run', 0, 200, { channelIds: ['channel', 'other'] })], tracks: [track('run', 0, 200, 0, 20_000)] };
const known = (changes: Partial<KnownChannel>): KnownChannel => ({ channel: channel(), marks: [], checks: [], setups: [], ...RUN, ...changes });
const told = (...channels: KnownChannel[]): unknown[] => doubtsOf(channels.map(provenChannel), ON_HAND).map(({ check: one, side, channels: own, footage, goodUs }) => [
  one.id, side, own.map(({ name }) => name).join(), footage.toMultirange(), goodUs === null ? null : (goodUs - atUs(0)) / 60e6,
]);

describe('what failed checks make suspect', () => {
  test('back to the last that passed, and on to the next that passed', () => {
    expect(told(known({ checks: [check(0, '70'), check(50, '70'), check(100, '41')] }))).toEqual([['check 100', 'before', 'ET-1', '{[5000,10000)}', 50], ['check 100', 'after', 'ET-1', '{[10000,20000)}', null]]);
    expect(told(known({ checks: [check(0, '70'), check(100, '41'), check(150, '70')] }))).toEqual([['check 100', 'before', 'ET-1', '{[0,10000)}', 0], ['check 100', 'after', 'ET-1', '{[10000,15000)}', 150]]);
    expect(told(known({ checks: [check(0, '70'), check(200, '70')] }))).toEqual([]);
  });

  test('all of it where none passed before; pipe before the first check that passed is no failed check\'s doing', () => {
    expect(told(known({ checks: [check(100, '41')] }))[0]).toEqual(['check 100', 'before', 'ET-1', '{[0,10000)}', null]);
    expect(told(known({ checks: [check(100, '70'), check(200, '70')] }))).toEqual([]);
  });

  test('of two that failed one after the other, each back to the last that passed', () => {
    expect(told(known({ checks: [check(0, '70'), check(50, '41'), check(100, '42'), check(150, '70')] }))).toEqual([
      ['check 50', 'before', 'ET-1', '{[0,5000)}', 0], ['check 100', 'before', 'ET-1', '{[0,10000)}', 0], ['check 100', 'after', 'ET-1', '{[10000,15000)}', 150],
    ]);
  });

  test('one that passed at the very instant of one that failed is no good one', () => {
    expect(told(known({ checks: [check(0, '70'), check(50, '70'), check(50, '41', { id: 'bad' }), check(100, '42')] })).at(1)).toEqual(['check 100', 'before', 'ET-1', '{[0,10000)}', 0]);
  });

  test('not what another look proves', () => {
    const again = { runs: [...RUN.runs, run('again', 300, 400)], tracks: [...RUN.tracks, track('again', 300, 400, 4_000, 6_000)] };
    expect(told(known({ ...again, checks: [check(0, '70'), check(100, '41'), check(150, '70'), check(400, '70')] }))[0]).toEqual(['check 100', 'before', 'ET-1', '{[0,4000),[6000,10000)}', 0]);
  });

  test('channels that failed and inspected the same pipe go together, others by themselves', () => {
    const other = channel({ id: 'other', name: 'ET-2' });
    const checks = [check(0, '70', { channels: ['channel', 'other'] }), check(200, '41', { channels: ['channel', 'other'] })];
    expect(told(known({ checks }), known({ checks, channel: other }))).toEqual([['check 200', 'before', 'ET-1,ET-2', '{[0,20000)}', 0]]);
    expect(told(known({ checks }), known({ checks, channel: other, tracks: [track('run', 0, 200, 500, 20_000)] }))).toEqual([
      ['check 200', 'before', 'ET-1', '{[0,20000)}', 0], ['check 200', 'before', 'ET-2', '{[500,20000)}', 0],
    ]);
    expect(told(known({ checks: [check(0, '70'), check(200, '41')] }), known({ checks: [check(0, '70', { channels: ['other'] })], channel: other }))).toHaveLength(1);
  });
});

describe('a nonconformance to enter', () => {
  const doubt = { check: check(100, '41', { action: 'Probe changed' }), side: 'before' as const, channels: [channel()], footage: IntervalSet.of(interval(5_000, 10_000)), goodUs: atUs(50) };

  test('has just the suspect pipe, what was shown and what was demanded', () => {
    expect(proposedNonconformances(doubt, 'RS-1')).toEqual([{
      observedAt: at(100), title: 'Reference check failed: ET-1', severity: 'major', origin: 'line', stringId: 'string', extents: [{ from: { footageMm: 5_000 }, to: { footageMm: 10_000 } }],
      extentBasis: 'bracketed', requirement: { document: 'Reference checks', revision: '-', clause: 'interval check', limit: 'N10: at least 60 %' },
      found: {
        text: `ET-1 showed 41 % of N10. 5000 mm of pipe that ET-1 inspected before it are suspect: the last check that passed was made at ${at(50)}.`,
        method: 'dynamic reference check', instrument: 'RS-1', at: at(100), by: 'operator',
      },
      containment: { action: 'Probe changed', at: at(100), by: 'operator' }, stage: 'draft',
    }]);
  });

  test('goes on in a second one where there are more places than one takes, and none is lost', () => {
    const footage = IntervalSet.from(Array.from({ length: 51 }, (_, index) => interval(index * 10, index * 10 + 5)));
    const proposals = proposedNonconformances({ ...doubt, footage }, 'RS-1');
    expect(proposals.map(({ extents }) => extents?.length)).toEqual([50, 1]);
    expect(IntervalSet.from(proposals.flatMap(({ extents }) => (extents ?? []).map(({ from, to }) => interval(from.footageMm ?? 0, to?.footageMm ?? 0)))).toMultirange()).toBe(footage.toMultirange());
    expect(proposals[1]?.found.text).toContain('Part 2 of 2.');
  });

  test('stays within what a nonconformance takes, however much there is to say', () => {
    const many = Array.from({ length: 60 }, (_, nth) => channel({ id: `c${nth}`, name: `ET-of-a-long-name-${nth}` }));
    const all = check(100, '41', { channels: many.map(({ id }) => id) });
    const [proposal] = proposedNonconformances({ ...doubt, check: all, channels: many }, 'RS-1');
    expect([proposal?.title.length, proposal?.requirement.limit.length, proposal?.found.text?.length].map((length) => length ?? 0)).toEqual([200, 18, 2000]);
  });

  test('says in words since when and until when', () => {
    expect(sinceText({ ...doubt, goodUs: null })).toContain('no check before it passed');
    expect(sinceText({ ...doubt, side: 'after' })).toContain(`the next check that passed was made at ${at(50)}`);
    expect(sinceText({ ...doubt, side: 'after', goodUs: null })).toContain('none passed since');
  });
});
