import { describe, expect, test } from '@jest/globals';
import { atUs, run, setup } from './inspection-proof.factory.js';
import { changesOf } from './run-changes.js';

const told = (runs: Parameters<typeof changesOf>[1], setups: Parameters<typeof changesOf>[2] = []): unknown[] =>
  changesOf('channel', runs, setups).map(({ id, kind, atUs: us }) => [id, kind, (us - atUs(0)) / 60e6]);

describe('changes that a channel\'s runs show', () => {
  test('none between runs of one operator with one setting, however it is written', () => {
    const setting = (gainDb: string) => ({ settings: [{ channelId: 'channel', gainDb, threshold: null, filter: null, note: null }] });
    expect(told([run('a', 0, 60, setting('42.5')), run('b', 70, null, setting('42.50'))])).toEqual([]);
    expect(told([run('a', 0, 60)])).toEqual([]);
  });

  test('another operator, another setting or both, from the end of the run before on', () => {
    expect(told([run('a', 0, 60), run('b', 70, null, { doneBy: 'mate' })])).toEqual([['b', 'operator', 60]]);
    expect(told([run('a', 0, 60), run('b', 70, null, { standardId: 'other' })])).toEqual([['b', 'set-up', 60]]);
    const filtered = { settings: [{ channelId: 'channel', gainDb: null, threshold: null, filter: 'High pass', note: null }] };
    expect(told([run('a', 0, 60), run('b', 70, null, { doneBy: 'mate', ...filtered })])).toEqual([['b', 'operator', 60], ['b', 'set-up', 60]]);
    const said = { settings: [{ channelId: 'channel', gainDb: '42.5', threshold: null, filter: null, note: null }] };
    expect(told([run('a', 0, 60, said), run('b', 70, null)])).toEqual([['b', 'set-up', 60]]);
  });

  test('a setting of another channel is none of this one', () => {
    const other = { settings: [{ channelId: 'other', gainDb: '3', threshold: null, filter: null, note: null }] };
    expect(told([run('a', 0, 60), run('b', 70, null, other)])).toEqual([]);
  });

  test('at the start of the next run where the one before had not ended, or ended later', () => {
    expect(told([run('a', 0, null), run('b', 70, null, { doneBy: 'mate' })])).toEqual([['b', 'operator', 70]]);
    expect(told([run('a', 0, 90), run('b', 70, null, { doneBy: 'mate' })])).toEqual([['b', 'operator', 70]]);
  });

  test('a line set-up within a run, and none at its ends', () => {
    expect(told([run('a', 0, 60), run('b', 70, null)], [setup(0), setup(30), setup(60), setup(65), setup(200)])).toEqual([['setup 30', 'set-up', 30], ['setup 200', 'set-up', 200]]);
  });
});
