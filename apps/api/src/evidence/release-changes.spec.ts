import { describe, expect, test } from '@jest/globals';
import type { EvidenceState } from '#libs/evidence';
import type { FrozenEvidence, FrozenLine } from '../releases/frozen-evidence.js';
import { releaseChanges, type ReleaseChange } from './release-changes.js';

type Told = readonly [state: EvidenceState, fromMm: number, toMm: number, late?: boolean];

/** A line whose every stretch is decided by a word of its own. */
const line = (code: string, ...stretches: readonly Told[]): FrozenLine => ({
  key: `${code} plan`, code, stretches: stretches.map(([state, fromMm, toMm, late = false], nth) => ({ fromMm, toMm, state, late, otherwise: null, by: [nth] })),
  testimonies: stretches.map(([state], nth) => ({ says: 'confirmed', because: `${code} ${nth} ${state}`, records: [] })),
});
const evidence = (lines: readonly FrozenLine[], periods = [{ kind: 'counter-period', id: 'p', version: 1 }]): FrozenEvidence => ({
  stringId: 's', fromMm: 0, toMm: 1_000, plans: [], footageRestsOn: periods, worst: 'confirmed', lines,
});
const shown = ({ code, fromMm, toMm, before, after, worse }: ReleaseChange): string => `${code} ${fromMm}-${toMm} ${before?.state ?? 'nothing'} to ${after?.state ?? 'nothing'}${worse ? ', worse' : ''}`;

const compared = (then: readonly FrozenLine[], now: readonly FrozenLine[]): readonly [readonly string[], string] => {
  const { changes, reopened } = releaseChanges(evidence(then), evidence(now));
  return [changes.map(shown), reopened.toMultirange()];
};

describe('a release beside what is known now', () => {
  test('stands as a whole where nothing changed', () => {
    const same = [line('D-1', ['confirmed', 0, 1_000])];
    expect(compared(same, same)).toEqual([[], '{}']);
  });

  test('reopens on just the pipe that became worse, and tells each change with what decides it', () => {
    const [then, now] = [[line('D-1', ['confirmed', 0, 1_000])], [line('D-1', ['confirmed', 0, 300], ['suspect', 300, 400], ['confirmed', 400, 1_000])]];
    expect(compared(then, now)).toEqual([['D-1 300-400 confirmed to suspect, worse'], '{[300,400)}']);
    const { changes: [change] } = releaseChanges(evidence(then), evidence(now));
    expect([change?.before?.testimonies[0]?.because, change?.after?.testimonies[0]?.because]).toEqual(['D-1 0 confirmed', 'D-1 1 suspect']);
  });

  test('is not reopened by what became better, was excepted then and is so still, or was only completed late', () => {
    expect(compared([line('D-1', ['missing', 0, 1_000])], [line('D-1', ['missing', 0, 400], ['confirmed', 400, 1_000])])).toEqual([['D-1 400-1000 missing to confirmed'], '{}']);
    expect(compared([line('D-1', ['confirmed', 0, 1_000])], [line('D-1', ['confirmed', 0, 1_000, true])])).toEqual([['D-1 0-1000 confirmed to confirmed'], '{}']);
  });

  test('is reopened where something speaks against pipe of which nothing was known', () => {
    expect(compared([line('UT-1', ['missing', 0, 1_000])], [line('UT-1', ['provisional', 0, 400], ['suspect', 400, 700], ['missing', 700, 1_000])])).toEqual([
      ['UT-1 0-400 missing to provisional', 'UT-1 400-700 missing to suspect, worse'], '{[400,700)}',
    ]);
  });

  test('is reopened by a demand that has come since and is not met, by a hold, and not by one that was taken away', () => {
    const first = line('D-1', ['confirmed', 0, 1_000]);
    expect(compared([first], [first, line('UT-1', ['confirmed', 0, 600], ['missing', 600, 1_000])])).toEqual([['UT-1 0-600 nothing to confirmed', 'UT-1 600-1000 nothing to missing, worse'], '{[600,1000)}']);
    expect(compared([first], [first, line('hold', ['failed', 100, 200])])).toEqual([['hold 100-200 nothing to failed, worse'], '{[100,200)}']);
    expect(compared([first, line('UT-1', ['missing', 0, 1_000])], [first])).toEqual([['UT-1 0-1000 missing to nothing'], '{}']);
  });

  test('tells changes in order of footage, whichever line they are of', () => {
    const [told] = compared([line('A', ['confirmed', 0, 1_000]), line('B', ['confirmed', 0, 1_000])], [line('A', ['confirmed', 0, 500], ['failed', 500, 1_000]), line('B', ['failed', 0, 100], ['confirmed', 100, 1_000])]);
    expect(told).toEqual(['B 0-100 confirmed to failed, worse', 'A 500-1000 confirmed to failed, worse']);
  });

  test('reopens as a whole where a counter period was corrected, withdrawn, or came in between', () => {
    const same = [line('D-1', ['confirmed', 0, 1_000])];
    const period = (id: string, version: number) => ({ kind: 'counter-period', id, version });
    for (const periods of [[period('p', 2)], [], [period('o', 1), period('p', 1)]]) {
      const { changes, isMoved, reopened } = releaseChanges(evidence(same), evidence(same, periods));
      expect([changes, isMoved, reopened.toMultirange()]).toEqual([[], true, '{[0,1000)}']);
    }
    expect(releaseChanges(evidence(same), evidence(same)).isMoved).toBe(false);
  });
});
