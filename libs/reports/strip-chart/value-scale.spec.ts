import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { float32Text, scaleOver, textTo } from './value-scale.js';

const texts = (values: number[], parts: number): string[] => scaleOver(values, parts)?.ticks.map(({ text }) => text) ?? [];

describe('a value scale', () => {
  test.each([
    [[12, 97], ['0', '20', '40', '60', '80', '100']],
    [[4.98, 6.08], ['5.0', '5.2', '5.4', '5.6', '5.8', '6.0']],
    [[0, 0.004], ['0.000', '0.001', '0.002', '0.003', '0.004']],
    [[-12.5, 52.7], ['0', '20', '40']],
    [[7], ['6.5', '7.0', '7.5']],
    [[0], ['−1.0', '−0.5', '0.0', '0.5', '1.0']],
    [[-9, -2], ['−8', '−6', '−4', '−2', '0']],
    [[2e7, 6e7], ['0', '2e+7', '4e+7', '6e+7']],
  ])('over %j has the ticks %j', (values, expected) => {
    expect(texts(values, 6)).toEqual(expected);
  });

  test('there is none over nothing, nor over what is not finite', () => {
    expect(scaleOver([], 5)).toBeNull();
    expect(() => scaleOver([1, NaN], 5)).toThrow('not a finite value: NaN');
    expect(() => scaleOver([Infinity], 5)).toThrow('not a finite value');
  });

  test('holds every value, has at least two ticks and at most one more than parts, and each says what it is', () => {
    fc.assert(fc.property(fc.array(fc.float({ noNaN: true, noDefaultInfinity: true }), { minLength: 1, maxLength: 20 }), fc.integer({ min: 3, max: 9 }), (values, parts) => {
      const scale = scaleOver(values, parts);
      if (scale === null) throw new Error('no scale');
      expect(scale.least).toBeLessThanOrEqual(Math.min(...values));
      expect(scale.greatest).toBeGreaterThanOrEqual(Math.max(...values));
      expect(scale.greatest).toBeGreaterThan(scale.least);
      expect(scale.ticks.length).toBeGreaterThanOrEqual(1);
      expect(scale.ticks.length).toBeLessThanOrEqual(parts + 1);
      for (const { value, text } of scale.ticks) {
        expect(Number(text.replace('−', '-'))).toBe(value);
        expect(value).toBeGreaterThanOrEqual(scale.least - (scale.greatest - scale.least) * 1e-8);
        expect(value).toBeLessThanOrEqual(scale.greatest + (scale.greatest - scale.least) * 1e-8);
      }
      expect(new Set(scale.ticks.map(({ text }) => text)).size).toBe(scale.ticks.length);
    }), { numRuns: 500 });
  });
});

test('a float32 is written as the shortest decimal that it is', () => {
  expect([5.61, 0.1, -12.5, 100, 0, 1e-7, 123456.7].map((value) => float32Text(Math.fround(value)))).toEqual(['5.61', '0.1', '−12.5', '100', '0', '1e−7', '123456.7']);
  fc.assert(fc.property(fc.float({ noNaN: true, noDefaultInfinity: true }), (value) => Math.fround(Number(float32Text(value).replaceAll('−', '-'))) === Math.fround(value) || value === 0));
});

describe('a value beside others', () => {
  test.each([
    [5.7294, 0.1094, '5.729'], [5.62, 0.1094, '5.620'], [0.00012349, 0.00003, '0.0001235'], [1234.5, 310, '1235'], [1234.5, 31, '1234.5'], [-0.0001, 5, '0.00'], [-2.5, 1, '−2.50'],
    [10, Infinity, '10.00'], [0, Infinity, '0'], [3.21e12, 1e9, '3.21000e+12'],
  ])('%d, %d apart, is written %s', (value, apart, text) => {
    expect(textTo(value, apart)).toBe(text);
  });
});
