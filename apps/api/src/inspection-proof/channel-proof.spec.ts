import { describe, expect, test } from '@jest/globals';
import { interval, IntervalSet } from '#libs/intervals';
import { checkRule, proofWithin, provenChannel, unmetOf, worstOf, type KnownChannel } from './channel-proof.js';
import { atUs, channel, check, mark, run, setup, track } from './inspection-proof.factory.js';

const PIPE = IntervalSet.of(interval(0, 10_000));
const known = (changes: Partial<KnownChannel>): KnownChannel => ({ channel: channel(), tracks: [], runs: [], marks: [], checks: [], setups: [], ...changes });
const sets = (changes: Partial<KnownChannel>, asked = PIPE): Record<string, string> => {
  const { confirmed, provisional, suspect, missing } = proofWithin(provenChannel(known(changes)), asked);
  return { confirmed: confirmed.toMultirange(), provisional: provisional.toMultirange(), suspect: suspect.toMultirange(), missing: missing.toMultirange() };
};
const NONE = '{}';

describe('what the checks of a channel prove', () => {
  const onePass = { runs: [run('run', 0, 100)], tracks: [track('run', 0, 100, 0, 10_000)] };

  test('between two that passed, after the last one, beside one that failed, and where nothing was read', () => {
    expect(sets({ ...onePass, checks: [check(0, '70'), check(100, '70')] })).toEqual({ confirmed: '{[0,10000)}', provisional: NONE, suspect: NONE, missing: NONE });
    expect(sets({ ...onePass, checks: [check(0, '70'), check(40, '70')] })).toEqual({ confirmed: '{[0,4000)}', provisional: '{[4000,10000)}', suspect: NONE, missing: NONE });
    expect(sets({ ...onePass, checks: [check(0, '70'), check(40, '70'), check(70, '41')] })).toEqual({ confirmed: '{[0,4000)}', provisional: NONE, suspect: '{[4000,10000)}', missing: NONE });
    expect(sets({})).toEqual({ confirmed: NONE, provisional: NONE, suspect: NONE, missing: '{[0,10000)}' });
    const read = IntervalSet.of(interval(0, 2_000), interval(2_100, 10_000));
    expect(sets({ ...onePass, tracks: [track('run', 0, 100, 0, 10_000, read)], checks: [check(0, '70'), check(100, '70')] })).toMatchObject({ confirmed: '{[0,2000),[2100,10000)}', missing: '{[2000,2100)}' });
  });

  test('a void check counts for nothing, and one of other channels says nothing of this one', () => {
    const [start, end] = [check(0, '70'), check(100, '70')];
    for (const beside of [check(40, '41', { voidReason: 'Dirty' }), check(40, '41', { channels: ['other'] })]) {
      expect(sets({ ...onePass, checks: [start, beside, end] })).toMatchObject({ confirmed: '{[0,10000)}', suspect: NONE });
    }
  });

  test('what a mark says is not valid is not inspected; what is excluded only, of another channel or run, stays', () => {
    const checks = [check(0, '70'), check(100, '70')];
    expect(sets({ ...onePass, checks, marks: [mark(3_000, 3_500)] })).toMatchObject({ confirmed: '{[0,3000),[3500,10000)}', missing: '{[3000,3500)}' });
    for (const other of [{ effect: 'excluded' as const }, { runId: 'another' }, { channelIds: ['other'] }]) {
      expect(sets({ ...onePass, checks, marks: [mark(3_000, 3_500, other)] })).toMatchObject({ confirmed: '{[0,10000)}', missing: NONE });
    }
  });

  test('a mark takes its pipe from its own run alone: a second run over it still tells of it', () => {
    const again = { runs: [run('run', 0, 100), run('again', 120, 140)], tracks: [track('run', 0, 100, 0, 10_000), track('again', 120, 140, 2_000, 4_000)] };
    expect(sets({ ...again, checks: [check(0, '70'), check(100, '70')], marks: [mark(3_000, 3_500)] })).toEqual({
      confirmed: '{[0,3000),[3500,10000)}', provisional: '{[3000,3500)}', suspect: NONE, missing: NONE,
    });
  });

  test('what one go of a run did not read is not inspected by it, though another go of the run read it', () => {
    const back = track('run', 110, 190, 9_000, 1_000);
    const gone = track('run', 0, 100, 0, 10_000, IntervalSet.of(interval(0, 5_000), interval(5_100, 10_000)));
    expect(sets({ runs: [run('run', 0, 200)], tracks: [gone, back], checks: [check(0, '70'), check(100, '70'), check(200, '41')] })).toEqual({
      confirmed: '{[0,5000),[5100,10000)}', provisional: NONE, suspect: '{[5000,5100)}', missing: NONE,
    });
  });

  test('samples of a run that is not known, or that the channel is not in, inspected nothing', () => {
    expect(sets({ ...onePass, runs: [] })).toMatchObject({ missing: '{[0,10000)}' });
    expect(sets({ ...onePass, runs: [run('run', 0, 100, { channelIds: ['other'] })] })).toMatchObject({ missing: '{[0,10000)}' });
  });

  test('no pipe but that asked for is told of', () => {
    expect(sets({ ...onePass, checks: [check(0, '70')] }, IntervalSet.of(interval(9_000, 12_000)))).toEqual({ confirmed: NONE, provisional: '{[9000,10000)}', suspect: NONE, missing: '{[10000,12000)}' });
  });
});

describe('occasions that were missed', () => {
  const unmet = (changes: Partial<KnownChannel>, asOfMinute = 600): unknown[] =>
    unmetOf(provenChannel(known(changes)), atUs(asOfMinute)).map(({ occasion, state, dueUs, check: late, changed }) => [
      occasion, state, (dueUs - atUs(0)) / 60e6, late?.id ?? null, changed === null ? null : 'run' in changed.shownBy ? changed.shownBy.run.id : changed.shownBy.setup.id,
    ]);

  test('none where checks came at the start, every four hours and at the end', () => {
    const tracks = [track('run', 0, 300, 0, 10_000)];
    expect(unmet({ runs: [run('run', 0, 300)], tracks, checks: [check(0, '70'), check(200, '70'), check(300, '70')] })).toEqual([]);
    expect(unmet({ runs: [run('run', 0, 300)], tracks, checks: [check(0, '70')] })).toEqual([['interval', 'missing', 240, null, null], ['end', 'missing', 300, null, null]]);
    expect(unmet({ runs: [run('run', 0, 300)], tracks }).map((one) => (one as unknown[])[0])).toEqual(['start', 'interval', 'end']);
  });

  test('an end check is in time until the run was ended, and late after that', () => {
    const tracks = [track('run', 0, 100, 0, 10_000)];
    expect(unmet({ runs: [run('run', 0, 110)], tracks, checks: [check(0, '70'), check(110, '70')] })).toEqual([]);
    expect(unmet({ runs: [run('run', 0, 110)], tracks, checks: [check(0, '70'), check(111, '70')] })).toEqual([['end', 'late', 100, 'check 111', null]]);
    const graced = channel({ checkGraceMinutes: 15 });
    expect(unmet({ channel: graced, runs: [run('run', 0, 110)], tracks, checks: [check(0, '70'), check(115, '70')] })).toEqual([]);
  });

  test('by the channel\'s own rule', () => {
    const tracks = [track('run', 0, 100, 0, 10_000)];
    const rule = { runs: [run('run', 0, 100)], tracks, checks: [check(0, '70'), check(100, '70')] };
    expect(unmet({ ...rule, channel: channel({ checkEveryMinutes: 60 }) })).toEqual([['interval', 'late', 60, 'check 100', null]]);
    expect(checkRule(channel()).source).toContain('ISO 10893');
    expect(checkRule(channel({ checkEveryMinutes: 60 })).source).toBe('No source is on record for this rule.');
    expect(checkRule(channel({ checkRuleSource: 'Plan 5.1' }))).toEqual({ everyUs: 14_400_000_000, graceUs: 0, source: 'Plan 5.1' });
  });

  test('a change between runs is met by a check between them; a change of set-up within one asks for its own', () => {
    const runs = [run('run', 0, 100), run('next', 110, 200, { doneBy: 'mate' })];
    const tracks = [track('run', 0, 100, 0, 5_000), track('next', 112, 200, 5_000, 10_000)];
    const checks = [check(0, '70'), check(100, '70'), check(200, '70')];
    expect(unmet({ runs, tracks, checks: [...checks, check(108, '70')] })).toEqual([]);
    // The end check of the one run is a check after its end: it stands for the start of the next, and for the operator's change.
    expect(unmet({ runs, tracks, checks })).toEqual([]);
    const early = [check(0, '70'), check(99, '70'), check(200, '70')];
    expect(unmet({ runs, tracks, checks: early })).toEqual([['end', 'late', 100, 'check 200', null], ['operator-change', 'late', 112, 'check 200', 'next'], ['start', 'late', 112, 'check 200', null]]);
    expect(unmet({ runs, tracks, checks, setups: [setup(150)] })).toEqual([['set-up-change', 'late', 150, 'check 200', 'setup 150']]);
  });

  test('a run that another follows has ended, though nobody wrote so', () => {
    const tracks = [track('run', 0, 100, 0, 5_000), track('next', 112, 200, 5_000, 10_000)];
    expect(unmet({ runs: [run('run', 0, null), run('next', 110, null)], tracks, checks: [check(0, '70'), check(105, '70')] }, 210)).toEqual([['end', 'late', 100, 'check 105', null]]);
  });

  test('two tracks of one run are one run', () => {
    const tracks = [track('run', 0, 50, 0, 5_000), track('run', 50, 100, 5_000, 0)];
    expect(unmet({ runs: [run('run', 0, 100)], tracks, checks: [check(0, '70'), check(100, '70')] })).toEqual([]);
  });
});

test('together, channels are as the worst of them', () => {
  const of = (toMm: number, ...checks: KnownChannel['checks']): ReturnType<typeof proofWithin> =>
    proofWithin(provenChannel(known({ runs: [run('run', 0, 100)], tracks: [track('run', 0, 100, 0, toMm)], checks })), PIPE);
  const worst = worstOf([of(10_000, check(0, '70'), check(50, '70'), check(70, '41')), of(9_000, check(0, '70'), check(20, '70'))], PIPE);
  expect(Object.entries(worst ?? {}).map(([state, set]) => [state, set.toMultirange()])).toEqual([
    ['confirmed', '{[0,1800)}'], ['provisional', '{[1800,5000)}'], ['suspect', '{[5000,9000)}'], ['missing', '{[9000,10000)}'],
  ]);
  expect(worstOf([], PIPE)).toBeNull();
});
