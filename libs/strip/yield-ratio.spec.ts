import { describe, expect, test } from '@jest/globals';
import { decimal, ratio } from '#libs/exact';
import { derivedValues, type SourcedValue } from '#libs/strip';
import { requirement, value } from './evaluation.factory.js';

const found = (...values: SourcedValue[]) => derivedValues(requirement('Y/T'), values);
const texts = (...values: SourcedValue[]): string[] => found(...values).map(({ text }) => text);

describe('the yield ratio', () => {
  test('of one test piece is exact: 450 to 500 is 0.9', () => {
    expect(found(value('ReH', '450'), value('Rm', '500'))).toEqual([{
      bounds: { low: decimal('0.9'), high: decimal('0.9'), lowOpen: false, highOpen: false, decimals: 4 }, unit: '1', text: '0.9000', reason: null,
      source: { label: 'ReH/Rm of certificate C-1', record: null }, isIncomplete: false, isDoubtful: false,
    }]);
  });

  test('does not depend on the units: 65 ksi and 500 N/mm2, 1 ksi being 6.894757293168… MPa', () => {
    // 65 × 6.894757293168 / 500 = 0.8963184481…
    expect(texts(value('Rp0.2', '65', { unit: 'ksi' }), value('Rm', '500', { unit: 'N/mm2' }))).toEqual(['0.8963']);
    expect(texts(value('Rt0.5', '65', { unit: 'ksi' }), value('Rm', '80', { unit: 'ksi' }))).toEqual(['0.8125']);
  });

  test('is told of each yield strength that the test has', () => {
    expect(found(value('ReH', '450'), value('ReL', '440'), value('Rm', '500')).map(({ text, source }) => [text, source.label])).toEqual([
      ['0.9000', 'ReH/Rm of certificate C-1'], ['0.8800', 'ReL/Rm of certificate C-1'],
    ]);
  });

  test.each([
    ['place', { location: 'tail' }], ['direction', { direction: 'across' }], ['source', { source: { label: 'certificate C-2', record: null } }],
  ])('is not told across tests, and Rm is missing: another %s', (_what, overrides) => {
    expect(found(value('ReH', '450'), value('Rm', '500', overrides))).toEqual([{
      bounds: { low: ratio(0n), high: null, lowOpen: false, highOpen: false, decimals: 4 }, unit: '1', text: 'at least 0.0000',
      reason: 'Rm not reported for the test of this ReH of 450 MPa (same paper, place and direction)',
      source: { label: 'ReH/Rm of certificate C-1', record: null }, isIncomplete: true, isDoubtful: false,
    }]);
  });

  test('without Rm is told of each yield strength but where its test has the ratio itself; of one in doubt also there', () => {
    const [reported, doubtful] = [value('Y/T', '0.90'), value('ReL', '440', { doubt: 'the two keyings differ' })];
    const reasonsOf = (...values: SourcedValue[]) => found(...values).map(({ reason }) => reason);
    expect(reasonsOf(value('ReH', '450'), value('Rp0.2', '440', { location: 'tail' }))).toEqual([expect.stringContaining('this ReH of 450 MPa'), expect.stringContaining('this Rp0.2 of 440 MPa')]);
    expect(found(value('ReH', '450'), reported)).toEqual([]);
    expect(reasonsOf(value('ReH', '450', { location: 'tail' }), reported)).toHaveLength(1);
    expect(found(value('ReH', '450'), doubtful, reported)).toMatchObject([
      { isIncomplete: true, isDoubtful: true, reason: expect.stringMatching(/^in doubt or not readable: ReL; Rm not reported .* ReL of 440 MPa/) },
    ]);
  });

  test('of Rm alone is none: nothing says that a yield strength was measured', () => {
    expect(found(value('Rm', '500'))).toEqual([]);
  });

  test('pairs each strength with the tensile strength of its own place, in any order', () => {
    const [head, tail] = [{ location: 'head' }, { location: 'tail' }];
    expect(texts(value('Rm', '500', tail), value('ReH', '450', head), value('Rm', '600', head), value('ReH', '420', tail))).toEqual(['0.7500', '0.8400']);
  });

  test('with two tensile strengths in one place lies between what they allow', () => {
    const values = [value('ReH', '450'), value('Rm', '500'), value('Rm', '600')];
    const because = '2 values of Rm stand there, and nothing tells which belongs to this ReH';
    expect(found(...values)).toMatchObject([{ text: '0.7500 to 0.9000', reason: because }]);
    expect(found(...values.reverse())).toMatchObject([{ text: '0.7500 to 0.9000', reason: because }]);
  });

  test.each([
    ['≥450', '500', 'at least 0.9000'], ['<450', '500', '0.0000 to 0.9000'], ['450', '≥500', '0.0000 to 0.9000'], ['450', '<500', 'at least 0.9000'],
  ])('%s to %s: %s', (yields, tensile, text) => {
    expect(texts(value('ReH', yields), value('Rm', tensile))).toEqual([text]);
  });

  test.each([
    ['ReH', value('ReH', '450', { doubt: 'the two keyings differ' }), value('Rm', '500')],
    ['Rm', value('ReH', '450'), value('Rm', '5 00')],
    ['Rm', value('ReH', '450'), value('Rm', '500', { unit: 'mm' })],
    ['ReH, Rm', value('ReH', '-450'), value('Rm', '500', { doubt: 'the two keyings differ' })],
  ])('with %s in doubt or not readable could be anything', (names, ...values) => {
    expect(found(...values)).toMatchObject([{ bounds: { low: ratio(0n), high: null }, reason: `in doubt or not readable: ${names}`, isIncomplete: false, isDoubtful: true }]);
  });

  test('a tensile strength of 0 bounds nothing', () => {
    expect(texts(value('ReH', '450'), value('Rm', '0'))).toEqual(['at least 0.0000']);
  });
});
