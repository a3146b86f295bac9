import { describe, expect, test } from '@jest/globals';
import { type DoubtfulSpan, doubtfulSpans, marginAgainst, type PointReading } from '#libs/validity';
import { calibration, point } from './validity.factory.js';

/** A span with these deviations found, none of them in tolerance. */
function spanWith(...asFound: PointReading[]): DoubtfulSpan {
  return doubtfulSpans([calibration('2026-01-01', '0', '0', { asFound })])[0]!;
}

describe('the margin of a reading against the deviation found', () => {
  const span = spanWith(point('0.03'), point('-0.05', { point: '10.00 mm' }));

  test.each([
    ['0.051', 'enough'], ['0.05', 'enough'], ['0.0499999', 'less-than-deviation'], ['0', 'less-than-deviation'], ['-0.04', 'less-than-deviation'],
    ['-0.06', 'enough'],
  ])('%s mm beside 0.05 mm: %s', (value, finding) => {
    expect(marginAgainst(span, { value, unit: 'mm' })).toBe(finding);
  });

  test('units are converted exactly, as differences: of temperatures too', () => {
    expect(marginAgainst(spanWith(point('0.0254')), { value: '0.001', unit: 'in' })).toBe('enough');
    expect(marginAgainst(spanWith(point('0.02540001')), { value: '0.001', unit: 'in' })).toBe('less-than-deviation');
    const warm = spanWith(point('5', { unit: 'degC', min: '-2', max: '2' }));
    expect(marginAgainst(warm, { value: '9', unit: 'degF' })).toBe('enough');
    expect(marginAgainst(warm, { value: '8.9', unit: 'degF' })).toBe('less-than-deviation');
  });

  test('a scale of its own compares with itself', () => {
    const hard = spanWith(point('7', { unit: 'HV10', min: '-5', max: '5' }));
    expect(marginAgainst(hard, { value: '6', unit: 'HV10' })).toBe('less-than-deviation');
    expect(marginAgainst(hard, { value: '6', unit: 'mm' })).toBe('not-comparable');
    expect(marginAgainst(span, { value: '6', unit: 'MPa' })).toBe('not-comparable');
  });

  test('what cannot be read leaves it open, unless another deviation decides', () => {
    const partly = spanWith(point('?'), point('0.03'), point('> 0.1'));
    expect(marginAgainst(partly, { value: '0.02', unit: 'mm' })).toBe('less-than-deviation');
    expect(marginAgainst(partly, { value: '5', unit: 'mm' })).toBe('not-comparable');
  });

  test('a margin that is no number is refused', () => {
    expect(() => marginAgainst(span, { value: '0,1', unit: 'mm' })).toThrow(new SyntaxError('not a plain decimal: "0,1"'));
  });
});
