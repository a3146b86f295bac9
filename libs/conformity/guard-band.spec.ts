import { describe, expect, test } from '@jest/globals';
import type { ConformityRules, Reading } from '#libs/conformity';
import { judge, judgeBounds } from '#libs/conformity';
import { decimal } from '#libs/exact';
import { ABSOLUTE, GUARDED, judged, limits, PROOF, ROUNDING, verdicts } from './judge.factory.js';

describe('guard bands', () => {
  const given = limits('9', '11', 'mm');

  test('guarded acceptance: inside the limits less U, in the band, beyond the limit; each edge belongs inwards', () => {
    const texts = ['8.99', '9', '9.19', '9.2', '10.8', '10.81', '11', '11.01'];
    expect(verdicts(given, GUARDED, texts, { expandedU: '0.2' })).toEqual([
      'does-not-conform', 'inside-guard-band', 'inside-guard-band', 'conforms', 'conforms', 'inside-guard-band', 'inside-guard-band', 'does-not-conform',
    ]);
  });

  test('proof of conformity: the band reaches past the limits as well', () => {
    const texts = ['8.79', '8.8', '9.19', '9.2', '10.8', '10.81', '11.2', '11.21'];
    expect(verdicts(given, PROOF, texts, { expandedU: '0.2' })).toEqual([
      'does-not-conform', 'inside-guard-band', 'inside-guard-band', 'conforms', 'conforms', 'inside-guard-band', 'inside-guard-band', 'does-not-conform',
    ]);
  });

  test('the sentences say the band, its origin and the place in it', () => {
    expect(judged(given, PROOF, '11.1', { expandedU: '0.2' })).toEqual({
      verdict: 'inside-guard-band',
      compared: '11.1',
      margin: '-0.1',
      nearest: 'max',
      acceptance: { min: '9.2', max: '10.8' },
      conformanceProbability: expect.closeTo(0.15865525, 7),
      rule:
        'ASTM E29 absolute method: the value is compared unrounded; with the guard band w = 1 × 0.2 = 0.2 mm ' +
        'it conforms from 9.2 to 10.8 mm and does not conform below 8.8 or above 11.2 mm (proof of conformity, ISO 14253-1).',
      reason: '11.1 mm is 0.1 beyond max 11 mm, not more than the guard band of 0.2 mm: neither conformity nor non-conformity is proved',
    });
    expect(judged(given, GUARDED, '9.1', { expandedU: '0.2' }).reason).toBe('9.1 mm is 0.1 inside min 9 mm, less than the guard band of 0.2 mm');
  });

  test('the width is r times U, and U is converted as a difference', () => {
    expect(judged(given, { ...GUARDED, guardFactor: '0.83' }, '10', { expandedU: '0.2' }).acceptance).toEqual({ min: '9.166', max: '10.834' });
    expect(judged(limits('100', '200', 'degC'), GUARDED, '300', { unit: 'degF', expandedU: '9' }).acceptance).toEqual({ min: '105', max: '195' });
  });

  test('an uncertainty of the reading goes before the one that is stated for the requirement', () => {
    const judgeOne = judge(given, GUARDED, { toDecimals: null, expandedU: '0.5' });
    const reading: Reading = { printed: '10.6', unit: 'mm', multiplier: '1', expandedU: null };
    expect(judgeOne(reading).verdict).toBe('inside-guard-band');
    expect(judgeOne({ ...reading, expandedU: '0.2' }).verdict).toBe('conforms');
    expect(judgeOne({ ...reading, expandedU: '0' }).acceptance).toEqual({ min: '9', max: '11' });
  });

  const missing = { verdict: 'not-comparable', acceptance: { min: null, max: null }, reason: 'the expanded uncertainty of the value is missing, and the guard band rests on it' };

  test('without any uncertainty nothing inside the limits is clean', () => {
    for (const rules of [GUARDED, PROOF]) for (const printed of ['9', '10', '11']) expect(judged(given, rules, printed)).toMatchObject(missing);
    expect(judged(given, ABSOLUTE, '10').verdict).toBe('conforms');
  });

  test('guarded acceptance rejects beyond the limit without any uncertainty too: its rejection zone is the limit whatever U is', () => {
    for (const [printed, margin] of [['8.99', '-0.01'], ['11.01', '-0.01'], ['500', '-489']] as const) {
      expect(judged(given, GUARDED, printed)).toMatchObject({ verdict: 'does-not-conform', margin, acceptance: { min: null, max: null }, conformanceProbability: null, reason: null });
    }
    expect(verdicts(limits('9', null, 'mm'), GUARDED, ['8.99', '9', '500'])).toEqual(['does-not-conform', 'not-comparable', 'not-comparable']);
    expect(judged(given, GUARDED, '10').rule).toBe(
      'ASTM E29 absolute method: the value is compared unrounded; with the guard band w = 1 × U, and U not stated, ' +
      'it does not conform below 9 or above 11 mm, and inside it is not decided (guarded acceptance, JCGM 106 8.3.2).',
    );
  });

  test('and after rounding, where the method rounds: 11.04 is 11.0, 11.06 is 11.1', () => {
    expect(verdicts(limits('9.0', '11.0', 'mm'), { ...GUARDED, rounding: 'rounding' }, ['11.04', '11.06'])).toEqual(['not-comparable', 'does-not-conform']);
  });

  test('proof of conformity without any uncertainty proves nothing on either side', () => {
    for (const printed of ['8.99', '11.5', '500']) expect(judged(given, PROOF, printed)).toMatchObject(missing);
    expect(judged(given, PROOF, '10').rule).toContain('guard band w = 1 × U, and U is not stated (proof of conformity, ISO 14253-1)');
  });

  test('a value between bounds without any uncertainty is rejected when all of it lies beyond', () => {
    const judgeOne = judgeBounds(given, GUARDED, { toDecimals: null, expandedU: null });
    const from = (low: string) => ({ low: decimal(low), high: null, lowOpen: false, highOpen: false, decimals: 1 });
    expect(judgeOne(from('11.1'), 'mm')).toMatchObject({ verdict: 'does-not-conform', reason: null });
    expect(judgeOne(from('10.9'), 'mm')).toMatchObject(missing);
    expect(verdicts(given, GUARDED, ['>11', '≥11', '<9', 'n/a'])).toEqual(['does-not-conform', 'not-comparable', 'does-not-conform', 'not-comparable']);
  });

  test('under the rounding method the value is rounded first, then compared with the guarded limits', () => {
    const rounding: ConformityRules = { ...GUARDED, rounding: 'rounding' };
    expect(judged(limits(null, '0.030'), rounding, '0.0254', { expandedU: '0.005' })).toMatchObject({ verdict: 'conforms', compared: '0.025', acceptance: { max: '0.025' } });
    expect(judged(limits(null, '0.030'), rounding, '0.0256', { expandedU: '0.005' }).verdict).toBe('inside-guard-band');
    expect(judged(limits(null, '0.030'), rounding, '0.0254', { expandedU: '0.0051' }).verdict).toBe('inside-guard-band');
  });

  test('two bands wider than the tolerance leave nothing that conforms, and the reason says so', () => {
    const narrow = limits('9', '9.3', 'mm');
    const reason = 'no value can conform: two guard bands of 0.2 mm are more than lies between min 9 and max 9.3 mm';
    expect(judged(narrow, GUARDED, '9.15', { expandedU: '0.2' })).toMatchObject({ verdict: 'inside-guard-band', reason });
    expect(judged(narrow, GUARDED, '9.4', { expandedU: '0.2' })).toMatchObject({ verdict: 'does-not-conform', reason });
    expect(judged(narrow, GUARDED, '9.15', { expandedU: '0.2' }).rule).toContain('it conforms nowhere and does not conform below 9 or above 9.3 mm');
    expect(judged(narrow, GUARDED, '9.15', { expandedU: '0.15' })).toMatchObject({ verdict: 'conforms', reason: null });
  });

  test('so does a place too coarse for what the bands leave', () => {
    const rounding: ConformityRules = { ...GUARDED, rounding: 'rounding' };
    expect(judged(limits('9.0', '9.3', 'mm'), rounding, '9.15', { expandedU: '0.12' })).toMatchObject({
      verdict: 'inside-guard-band',
      reason: 'no value can conform: rounded half to even to 1 decimal, the last digit of the limit, none is from 9.12 to 9.18 mm',
    });
  });

  test('a value between bounds that lies in the band whole is in the band', () => {
    const judgeOne = judgeBounds(given, PROOF, { toDecimals: null, expandedU: '0.2' });
    const within = (low: string, high: string) => ({ low: decimal(low), high: decimal(high), lowOpen: false, highOpen: false, decimals: 1 });
    expect(judgeOne(within('10.9', '11.1'), 'mm')).toMatchObject({
      verdict: 'inside-guard-band', reason: 'everything the value can be, 10.9 to 11.1 mm, lies inside the guard band of 0.2 mm',
    });
    expect(judgeOne(within('10.7', '11.1'), 'mm').verdict).toBe('not-comparable');
  });

  test('the probability is that of the unrounded value, with half of U', () => {
    const rounding: ConformityRules = { ...ROUNDING };
    expect(judged(limits(null, '11', 'mm'), rounding, '11.4', { expandedU: '0.8' })).toMatchObject({
      verdict: 'conforms', compared: '11', conformanceProbability: expect.closeTo(0.15865525, 7),
    });
  });
});
