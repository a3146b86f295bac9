import { describe, expect, test } from '@jest/globals';
import { decimal } from '#libs/exact';
import { derivedValues } from '#libs/strip';
import { analysis, on, requirement, value } from './evaluation.factory.js';

/** CE(IIW) by hand: 0.12 + 1.2/6 + (0.1 + 0.05 + 0.05)/5 + (0.3 + 0.15)/15 = 0.12 + 0.2 + 0.04 + 0.03 = 0.39. */
const WITHOUT_V = { C: '0.12', Mn: '1.2', Cr: '0.1', Mo: '0.05', Ni: '0.3', Cu: '0.15' };
const FULL = { ...WITHOUT_V, V: '0.05' };
const CE = requirement('CE(IIW)');

const texts = (...given: Parameters<typeof derivedValues>) => derivedValues(...given).map(({ text, reason }) => [text, reason]);

describe('carbon equivalents', () => {
  test.each([
    ['CE(IIW)', FULL, '0.3900 %'],
    // 0.12 + (1.2 + 0.05)/10 + (0.1 + 0.15)/20 + 0.3/40 = 0.12 + 0.125 + 0.0125 + 0.0075
    ['CET', FULL, '0.2650 %'],
    // 0.12 + 0.3/30 + (1.2 + 0.15 + 0.1)/20 + 0.3/60 + 0.06/15 + 0.05/10 + 5 × 0.0004 = 0.12 + 0.01 + 0.0725 + 0.005 + 0.004 + 0.005 + 0.002
    ['Pcm', { ...FULL, Si: '0.3', Mo: '0.06', B: '0.0004' }, '0.2185 %'],
  ])('%s of a whole analysis', (code, percents, text) => {
    expect(derivedValues(requirement(code), analysis(percents))).toMatchObject([
      { text, unit: '%', reason: null, isIncomplete: false, isDoubtful: false, source: { label: `${code} recomputed from the heat analysis of certificate C-1`, record: null } },
    ]);
  });

  test('an element that nobody reports is not zero: known from below', () => {
    expect(derivedValues(CE, analysis(WITHOUT_V))).toMatchObject([
      { text: 'at least 0.3800 %', bounds: { low: decimal('0.38'), high: null }, reason: 'not reported, and not taken for zero: V', isIncomplete: true, isDoubtful: false },
    ]);
  });

  test('an element below its limit of detection is from 0 to it', () => {
    expect(texts(CE, analysis({ ...FULL, V: '<0.005' }))).toEqual([['0.3800 to 0.3810 %', null]]);
  });

  test('an element in doubt could be anything, and is not called unreported', () => {
    const values = [...analysis(WITHOUT_V), value('V', '0.05', { doubt: 'the two keyings differ' })];
    expect(derivedValues(CE, values)).toMatchObject([{ text: 'at least 0.3800 %', reason: 'in doubt or not readable: V', isIncomplete: false, isDoubtful: true }]);
  });

  test('an element of the other analysis alone does not count', () => {
    const values = [...analysis(WITHOUT_V), value('V', '0.05', { analysis: 'product' })];
    expect(texts(CE, values)).toEqual([['at least 0.3800 %', 'not reported, and not taken for zero: V']]);
    expect(texts({ ...CE, analysis: 'product' }, values)).toEqual([['at least 0.0100 %', 'not reported, and not taken for zero: C, Mn, Cr, Mo, Ni, Cu']]);
    expect(derivedValues({ ...CE, analysis: 'product' }, analysis(FULL))).toEqual([]);
  });

  test('ppm and multiplied columns are taken out exactly', () => {
    const values = [...analysis(WITHOUT_V), value('V', '500', { unit: 'ppm' })].map((one) => (one.characteristic === 'C' ? { ...one, printed: '12.0', multiplier: '100' } : one));
    expect(texts(CE, values)).toEqual([['0.3900 %', null]]);
  });
});

describe('several analyses', () => {
  const higher = { ...FULL, C: '0.16' };

  test('each counts by itself', () => {
    const values = [...analysis(FULL), ...on('certificate C-2', analysis(higher))];
    expect(derivedValues(CE, values).map(({ text, source }) => [text, source.label])).toEqual([
      ['0.3900 %', 'CE(IIW) recomputed from the heat analysis of certificate C-1'], ['0.4300 %', 'CE(IIW) recomputed from the heat analysis of certificate C-2'],
    ]);
  });

  test('two samples of one paper are told apart by their places', () => {
    const values = [...analysis(FULL), ...analysis(higher).map((one) => ({ ...one, location: 'tail' }))];
    expect(texts(CE, values)).toEqual([['0.3900 %', null], ['0.4300 %', null]]);
  });

  test('one that lacks an element takes it from the others, between the least and the most they say', () => {
    const retest = on('certificate C-2', [value('C', '0.16')]);
    const reason = 'taken from other analyses: Mn, Cr, Mo, V, Ni, Cu';
    expect(texts(CE, [...analysis(FULL), ...retest])).toEqual([['0.3900 %', null], ['0.4300 %', reason]]);
    const third = on('certificate C-3', analysis({ ...FULL, V: '0.10' }));
    expect(texts(CE, [...analysis(FULL), ...retest, ...third])).toEqual([['0.3900 %', null], ['0.4300 to 0.4400 %', reason], ['0.4000 %', null]]);
  });

  test('an element given twice for one sample lies between both', () => {
    expect(texts(CE, [...analysis(FULL), value('C', '0.16')])).toEqual([['0.3900 to 0.4300 %', null]]);
  });
});

describe('sums of elements', () => {
  const SUM = requirement('Nb+V');

  test.each([
    [{ Nb: '0.04', V: '0.05' }, '0.0900 %', null],
    [{ Nb: '0.04', V: '<0.01' }, '0.0400 to 0.0500 %', null],
    [{ Nb: '0.04', V: '>0.01' }, 'at least 0.0500 %', null],
    [{ Nb: '0.04', Ti: '0.02' }, 'at least 0.0400 %', 'not reported, and not taken for zero: V'],
  ])('%j: %s', (percents, text, reason) => {
    expect(texts(SUM, analysis(percents))).toEqual([[text, reason]]);
  });

  test('three of them, and who says so', () => {
    expect(derivedValues(requirement('Nb+V+Ti'), analysis({ Nb: '0.04', V: '0.05', Ti: '0.015' }))).toMatchObject([
      { text: '0.1050 %', source: { label: 'Nb+V+Ti added up from the heat analysis of certificate C-1' } },
    ]);
  });

  test('a printed sum is not an element of it, and other characteristics follow from nothing', () => {
    expect(derivedValues(SUM, [value('Nb+V', '0.09')])).toEqual([]);
    expect(derivedValues(requirement('C'), analysis(FULL))).toEqual([]);
    expect(derivedValues(requirement('ReH'), [value('ReH', '450'), value('Rm', '530')])).toEqual([]);
  });
});
