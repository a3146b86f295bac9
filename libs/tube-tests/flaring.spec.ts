import { describe, expect, test } from '@jest/globals';
import { checkExpansion, flareExpansionPercent, flaringSetUpChecks, requiredExpansion, VENDOR_EXPANSION } from '#libs/tube-tests';

const flare = (outsideDiameterMm: string, flaredDiameterMm: string) => ({ outsideDiameterMm, flaredDiameterMm });
const tube = (outsideDiameterMm: string, wallThicknessMm: string) => ({ outsideDiameterMm, wallThicknessMm });

describe('flareExpansionPercent', () => {
  test('is the growth of the outside diameter', () => {
    expect(flareExpansionPercent(flare('127.0', '152.4'))).toBe(20);
    expect(flareExpansionPercent(flare('100', '100'))).toBe(0);
  });

  test('refuses a flare narrower than its tube', () => {
    expect(() => flareExpansionPercent(flare('100', '99.9'))).toThrow(new RangeError('a flare is not narrower than its tube of 100 mm: 99.9'));
  });
});

describe('requiredExpansion', () => {
  test.each([
    ['20', '12', 'WC1, d/D up to 0.6 (d/D = 0.6)'], // on the bound the lower cell
    ['19.99', '15', 'WC1, d/D over 0.6 to 0.8 (d/D = 0.6002)'],
    ['10', '15', 'WC1, d/D over 0.6 to 0.8 (d/D = 0.8)'],
    ['9.99', '19', 'WC1, d/D over 0.8 (d/D = 0.8002)'],
  ])('a tube of 100 × %s mm: %s %%', (wallMm, percent, cell) => {
    expect(requiredExpansion(tube('100', wallMm), 'WC1')).toEqual({ percent, cell, source: 'Indian Boiler Regulations, Regulation 59(b)' });
  });

  test('guesses nothing for other grades', () => {
    expect(requiredExpansion(tube('100', '5'), 'WC3')).toEqual({ missing: 'no required expansion with a source for grade WC3; known are WC1, WC2' });
  });
});

describe('checkExpansion', () => {
  test('what is demanded is enough, and a hair less is not', () => {
    expect(checkExpansion(flare('100', '120'), VENDOR_EXPANSION)).toEqual({
      name: 'expansion of the outside diameter', outcome: 'met', found: '20.00 %', demanded: 'at least 20 %, small welded tube', words: 'expansion 20.00 %; demanded: at least 20 %, small welded tube',
      source: 'a vendor\'s page with pictures of tests (of little authority)',
    });
    expect(checkExpansion(flare('100', '119.9999999999999999'), VENDOR_EXPANSION).outcome).toBe('not met');
  });
});

describe('flaringSetUpChecks', () => {
  const outcomes = (diameterMm: string, pieceLengthMm: string | null, coneAngleDeg: string | null): string[] =>
    flaringSetUpChecks({ tube: tube(diameterMm, '2'), pieceLengthMm, coneAngleDeg }).map(({ outcome }) => outcome);

  test('the piece is 1.5 D long, and at least 50 mm', () => {
    expect(outcomes('100', '150', '45')).toEqual(['met', 'met']);
    expect(outcomes('100', '149.9', '60.0')).toEqual(['not met', 'met']);
    expect(outcomes('20', '50', '60')).toEqual(['met', 'met']);
    expect(outcomes('20', '49.9', '30')).toEqual(['not met', 'not met']);
  });

  test('what nobody recorded is neither met nor broken', () => {
    expect(outcomes('100', null, null)).toEqual(['not recorded', 'not recorded']);
  });
});
