import { describe, expect, test } from '@jest/globals';
import { Rejoin } from '../../rejoins/rejoin.entity.js';
import { SpliceVersion } from '../../splices/splice.entity.js';
import { wordOn as wordOnRejoin } from './rejoin-accepted.source.js';
import { wordOn as wordOnSplice } from './splice-accepted.source.js';

const ENTERED = '2026-03-02T09:00:00.000000Z';
const LATER = '2026-03-02T10:00:00.000000Z';
const splice = (verdict: SpliceVersion['verdict'], doubt: string | null = null): SpliceVersion =>
  Object.assign(new SpliceVersion(), { id: 's', version: 2, number: 'S-3', verdict, doubt, enteredAt: ENTERED });
const rejoin = (verdict: Rejoin['verdict']): Rejoin => Object.assign(new Rejoin(), { id: 'r', version: 1, procedure: 'WP-7', verdict, enteredAt: ENTERED });
const OPEN = ['no weld is on record', 'chart missing'];

describe('the word on a splice', () => {
  const said = (...args: Parameters<typeof wordOnSplice>): string => {
    const { says, because } = wordOnSplice(...args);
    return `${says}: ${because}`;
  };

  test('is its verdict, and doubt where an accepted one has something open', () => {
    expect(said(splice('accepted'), [], [])).toBe('confirmed: splice S-3 was accepted');
    expect(said(splice('accepted'), OPEN, [])).toBe('suspect: splice S-3 was accepted; no weld is on record; chart missing');
    expect(said(splice('in-doubt', 'film unclear'), [], [])).toBe('suspect: splice S-3 is in doubt: film unclear');
    expect(said(splice('rejected'), OPEN, [])).toBe('failed: splice S-3 was rejected; no weld is on record; chart missing');
    expect(said(splice('open'), OPEN, [])).toBe('awaited: splice S-3 has no verdict yet; no weld is on record; chart missing');
  });

  test('names the splice, and was entered with its last step', () => {
    expect(wordOnSplice(splice('accepted'), [], [LATER])).toMatchObject({ records: [{ kind: 'splice', id: 's', version: 2 }], enteredAt: [ENTERED, LATER] });
  });

  test('is no longer than an answer may be', () => {
    expect(wordOnSplice(splice('in-doubt', 'x'.repeat(2_000)), OPEN, []).because).toHaveLength(500);
  });
});

describe('the word on a re-join', () => {
  const said = (...args: Parameters<typeof wordOnRejoin>): string => {
    const { says, because } = wordOnRejoin(...args);
    return `${says}: ${because}`;
  };

  test('is its verdict, and doubt where an accepted one has something open', () => {
    expect(said(rejoin('accepted'), [], [])).toBe('confirmed: re-join by WP-7: accepted');
    expect(said(rejoin('accepted'), OPEN, [])).toBe('suspect: re-join by WP-7: accepted; no weld is on record; chart missing');
    expect(said(rejoin('rejected'), [], [])).toBe('failed: re-join by WP-7: rejected');
    expect(said(rejoin('open'), OPEN, [])).toBe('awaited: re-join by WP-7: no verdict yet; no weld is on record; chart missing');
    expect(wordOnRejoin(rejoin('accepted'), OPEN, [LATER])).toMatchObject({ records: [{ kind: 'rejoin', id: 'r', version: 1 }], enteredAt: [ENTERED, LATER] });
  });
});
