import { describe, expect, test } from '@jest/globals';
import { keying, paperLine, printed } from '../evaluation/coil-knowledge.factory.js';
import { verificationOf } from './certificate-transcriptions.service.js';

const first = keying([paperLine()], { id: 'first' });
const second = keying([paperLine()], { id: 'second', keying: 2 });

describe('the verification of a certificate', () => {
  test('is verified when two keyings say the same, in whichever order they come', () => {
    for (const keyings of [[first, second], [second, first]]) {
      expect(verificationOf('certificate', keyings)).toEqual({ certificateId: 'certificate', state: 'verified', firstId: 'first', secondId: 'second', isCorrected: false, differences: [] });
    }
  });

  test('tells where two keyings differ', () => {
    const other = keying([paperLine({ values: [printed({ printed: '0.058' })] })], { id: 'second', keying: 2 });
    expect(verificationOf('certificate', [first, other])).toMatchObject({ state: 'keyings-differ', differences: [{ where: 'coil LM-02: C, heat analysis', first: '0.085 %', second: '0.058 %' }] });
  });

  test('knows none and one, be it the second whose first was withdrawn', () => {
    expect(verificationOf('certificate', [])).toMatchObject({ state: 'not-keyed', firstId: null, secondId: null });
    expect(verificationOf('certificate', [first])).toMatchObject({ state: 'keyed-once', firstId: 'first', secondId: null });
    expect(verificationOf('certificate', [second])).toMatchObject({ state: 'keyed-once', firstId: null, secondId: 'second' });
  });

  test('is that of one certificate among several, and never verified by one keying twice', () => {
    expect(verificationOf('certificate', [first, keying([], { certificateId: 'other', keying: 2 })])).toMatchObject({ state: 'keyed-once', secondId: null });
    expect(verificationOf('certificate', [first, keying([paperLine()], { id: 'again' })]).state).toBe('keyed-once');
  });

  test('says that a keying was amended', () => {
    expect(verificationOf('certificate', [first, keying([paperLine()], { id: 'second', keying: 2, version: 2 })])).toMatchObject({ state: 'verified', isCorrected: true });
  });
});
