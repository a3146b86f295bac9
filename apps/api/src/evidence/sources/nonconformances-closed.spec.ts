import { describe, expect, test } from '@jest/globals';
import { DISPOSITION_KINDS, Nonconformance, type Disposition } from '../../nonconformances/nonconformance.entity.js';
import { at } from '../evidence.factory.js';
import { wordOf } from './nonconformances-closed.source.js';

const reported = (stage: Nonconformance['stage'], kind: Disposition['kind'] | null): Nonconformance => Object.assign(new Nonconformance(), {
  id: 'n', version: 1, number: 7, title: 'Lap', stage, enteredAt: at('08:00'), disposition: kind === null ? null : { kind, text: 'As agreed', approvedBy: 'p', approvedAt: at('09:00') },
});

describe('a nonconformance of pipe that is in the string', () => {
  test.each([...DISPOSITION_KINDS, null])('fails it while it is open, disposition %s', (kind) => {
    expect(wordOf(reported('open', kind))).toMatchObject({ says: 'failed', because: 'NC-0007, Lap: open' });
  });

  test.each([
    ['rework', 'confirmed'], ['repair', 'confirmed'], ['further-inspection', 'confirmed'], ['use-as-is-under-concession', 'waived'], ['regrade', 'waived'], ['reject', 'failed'], ['return-to-supplier', 'failed'],
  ] as const)('closed as %s: %s', (kind, says) => {
    expect(wordOf(reported('closed', kind)).says).toBe(says);
  });

  test('that was to be taken out says that it was not', () => {
    expect(wordOf(reported('closed', 'reject')).because).toBe('NC-0007, Lap: closed, reject, and this pipe was not cut out');
  });
});
