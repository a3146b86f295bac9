import { describe, expect, test } from '@jest/globals';
import { carbonEquivalentCen, carbonEquivalentCsa } from '#libs/strip';

const composition = new Map(Object.entries({ C: 0.12, Si: 0.24, Mn: 1.2, Cu: 0.15, Ni: 0.15, Cr: 0.1, Mo: 0.05, V: 0.03, Nb: 0.02, B: 0.001 }));

describe('carbonEquivalentCen', () => {
  test('at 0.12 % carbon the factor is 0.75: 0.12 + 0.75 (0.01 + 0.2 + 0.02 + 0.04 + 0.005)', () => {
    const found = carbonEquivalentCen(composition);
    expect(found.factor).toBe(0.75);
    expect(found.percent).toBeCloseTo(0.32625, 12);
  });

  test('the factor goes from 0.5 to 1 as carbon rises', () => {
    expect(carbonEquivalentCen(new Map([...composition, ['C', 0]])).factor).toBeCloseTo(0.504, 3);
    expect(carbonEquivalentCen(new Map([...composition, ['C', 0.4]])).factor).toBeCloseTo(1, 4);
  });

  test('refuses to take missing elements for 0, and names them', () => {
    const partial = new Map([...composition].filter(([element]) => element !== 'Nb' && element !== 'B'));
    expect(() => carbonEquivalentCen(partial)).toThrow(new RangeError('not reported, which is not 0: Nb, B'));
  });

  test.each([-0.01, Number.NaN, Infinity])('%p is no mass fraction', (percent) => {
    expect(() => carbonEquivalentCen(new Map([...composition, ['Si', percent]]))).toThrow(`Si: not a mass fraction in %: ${percent}`);
  });
});

describe('carbonEquivalentCsa', () => {
  test('weighs copper and nickel apart, and all groups by F', () => {
    const found = carbonEquivalentCsa(composition, 0.5);
    expect(found.percent).toBeCloseTo(0.12 + 0.5 * (0.2 + 0.01 + 0.01 + 0.0075 + 0.04 + 0.005), 12);
    expect(found.terms.map(({ elements }) => elements.join('+'))).toEqual(['Mn', 'Si', 'Cu', 'Ni', 'Cr+Mo+V+Nb', 'B']);
  });

  test('refuses a missing element and an F that is none', () => {
    expect(() => carbonEquivalentCsa(new Map([['C', 0.1]]), 1)).toThrow('not reported, which is not 0: Mn, Si, Cu, Ni, Cr, Mo, V, Nb, B');
    expect(() => carbonEquivalentCsa(composition, 0)).toThrow(new RangeError('F must be over 0: 0'));
  });
});
