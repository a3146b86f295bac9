import { expect, test } from '@jest/globals';
import { channel, check } from './inspection-proof.factory.js';
import { meaningOf } from './proof-answer.js';

test('that a channel shows nothing is said with its threshold and the reflectors that it was checked with', () => {
  const sized = check(50, '70');
  sized.results = sized.results.map((result) => ({ ...result, size: '0.5 mm deep' }));
  expect(meaningOf(channel(), [check(0, '70'), check(40, '71'), sized])).toBe(
    'No indication of ET-1 means none at or above 60 %, checked with N10, N10 (0.5 mm deep), on the metres that are confirmed here. It does not mean that there is no defect.',
  );
  expect(meaningOf(channel(), [check(0, '70', { channels: ['other'] })])).toContain('no reference reflector on record');
  expect(meaningOf(channel({ threshold: null }), [])).toBe('ET-1 has no threshold: it tells of no indications, whatever it reads.');
});
