import { describe, expect, test } from '@jest/globals';
import { decimal, ratio } from '#libs/exact';
import { carbonEquivalent, elementsOf, governingEquivalent, type MassFractionBounds } from '#libs/strip';

function composition(percents: Readonly<Record<string, string | readonly [low: string, high: string | null]>>): Map<string, MassFractionBounds> {
  return new Map(Object.entries(percents).map(([element, given]) => {
    const [low, high] = typeof given === 'string' ? [given, given] : given;
    return [element, { low: decimal(low), high: high === null ? null : decimal(high) }];
  }));
}

const FULL = { C: '0.12', Mn: '1.2', Cr: '0.1', Mo: '0.05', V: '0.05', Ni: '0.3', Cu: '0.15' };

describe('carbonEquivalent', () => {
  test('is exact: 0.12 + 0.2 + 0.04 + 0.03', () => {
    expect(carbonEquivalent('CE(IIW)', composition(FULL))).toMatchObject({ low: decimal('0.39'), high: decimal('0.39'), missing: [] });
  });

  test('an element that is not reported is not zero', () => {
    const { V, ...withoutV } = FULL;
    const found = carbonEquivalent('CE(IIW)', composition(withoutV));
    expect(V).toBe('0.05');
    expect(found).toMatchObject({ low: decimal('0.38'), high: null, missing: ['V'] });
    expect(found.terms.find(({ element }) => element === 'V')).toEqual({ element: 'V', factor: ratio(1n, 5n), low: ratio(0n), high: null });
  });

  test('a value below a limit of detection is between 0 and that limit', () => {
    const found = carbonEquivalent('CE(IIW)', composition({ ...FULL, V: ['0', '0.005'] }));
    expect(found).toMatchObject({ low: decimal('0.38'), high: decimal('0.381'), missing: [] });
  });

  test('a value that is only known to be at least so much is reported, but not bounded above', () => {
    expect(carbonEquivalent('CE(IIW)', composition({ ...FULL, V: ['0.05', null] }))).toMatchObject({ low: decimal('0.39'), high: null, missing: [] });
  });

  test('a lower bound below 0 counts as 0', () => {
    const found = carbonEquivalent('Pcm', composition({ C: '0.1', Si: '0.3', Mn: '1', Cu: '0', Cr: '0', Ni: '0', Mo: '0', V: '0', B: ['-0.0002', '0.0004'] }));
    expect(found).toMatchObject({ low: decimal('0.16'), high: decimal('0.162'), missing: [] });
  });

  test('bounds that cannot be are refused', () => {
    expect(() => carbonEquivalent('CET', composition({ C: ['0.2', '0.1'] }))).toThrow(new RangeError('C: the upper bound is below the lower one or below 0'));
    expect(() => carbonEquivalent('CET', composition({ C: ['-0.2', '-0.1'] }))).toThrow(RangeError);
  });

  test('nothing reported: every element is missing', () => {
    expect(carbonEquivalent('CET', new Map())).toMatchObject({ low: ratio(0n), high: null, missing: elementsOf('CET') });
    expect(elementsOf('Pcm')).toEqual(['C', 'Si', 'Mn', 'Cu', 'Cr', 'Ni', 'Mo', 'V', 'B']);
  });

  test('elements outside the formula change nothing', () => {
    expect(carbonEquivalent('CE(IIW)', composition({ ...FULL, Si: '0.4', Nb: '0.05' }))).toEqual(carbonEquivalent('CE(IIW)', composition(FULL)));
  });
});

describe('governingEquivalent', () => {
  test('turns just above 0.12 % carbon', () => {
    expect(['0', '0.1199', '0.12', '0.1201', '0.2'].map((percent) => governingEquivalent(decimal(percent)))).toEqual(
      ['Pcm', 'Pcm', 'Pcm', 'CE(IIW)', 'CE(IIW)'],
    );
    expect(() => governingEquivalent(decimal('-0.01'))).toThrow(RangeError);
  });
});
