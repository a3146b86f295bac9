import { describe, expect, test } from '@jest/globals';
import { printedText } from '#libs/strip';
import { value } from './evaluation.factory.js';
import { isOfOneTest } from './sourced-value.js';

describe('printedText', () => {
  test.each([
    ['0.085 %', value('C', '0.085')],
    ['<0.0005 %', value('B', '<0.0005')],
    ['8.5 %, printed ×100', value('C', '8.5', { multiplier: '100' })],
    ['0.84', value('Y/T', '0.84')],
    ['5.01 mm (U 0.01)', value('thickness', '5.01', { expandedU: '0.01' })],
    ['187 HV10', value('HV10', '187')],
  ])('%s', (text, given) => {
    expect(printedText(given)).toBe(text);
  });
});

describe('isOfOneTest', () => {
  const one = value('ReH', '450', { location: 'head', direction: 'along' });

  test('one source, place and direction, whatever was measured', () => {
    expect(isOfOneTest(one, value('Rm', '530', { location: 'head', direction: 'along' }))).toBe(true);
  });

  test.each([
    ['source', { source: { label: 'certificate C-2', record: null } }], ['place', { location: 'tail' }], ['place that is not told', { location: null }],
    ['direction', { direction: 'across' }],
  ])('another %s is another test', (_what, overrides) => {
    expect(isOfOneTest(one, { ...one, ...overrides })).toBe(false);
  });
});
