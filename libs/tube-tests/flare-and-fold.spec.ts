import { describe, expect, test } from '@jest/globals';
import { flareAgainstFold, FOLD_CAUTIONS } from '#libs/tube-tests';

const flare = (flaredDiameterMm: string) => ({ outsideDiameterMm: '100', flaredDiameterMm });

describe('flareAgainstFold', () => {
  test('a flare as wide as the fold reaches it: κ = 1.16 strains by ln 1.16 = 0.148', () => {
    const found = flareAgainstFold(flare('116'), false, '1.16');
    expect(found).toMatchObject({ reachesFold: true, expansionPercent: 16, foldExpansionPercent: 16, cautions: FOLD_CAUTIONS });
    expect(found.flareStrain).toBeCloseTo(0.14842, 5);
    expect(found.foldStrain).toBe(found.flareStrain);
    expect(found.words).toBe('flared by 16.00 %, no crack; the fold widens by 16.00 % (κ = 1.16, strain ln κ); '
      + 'the flare reaches the fold\'s expansion. Advisory.');
    expect(found.rule).toContain('derived here, no published source');
  });

  test('compares exactly', () => {
    expect(flareAgainstFold(flare('115.99999999999999999'), false, '1.16').reachesFold).toBe(false);
  });

  test.each<[string, boolean, string]>([
    ['115', false, 'the flare stopped short of the fold: not shown'],
    ['120', true, 'wide enough, but cracked: not shown'],
    ['110', true, 'not wide enough, and cracked: not shown'],
  ])('a flare to %s mm, cracked %s, shows nothing', (flaredDiameterMm, isCracked, words) => {
    const found = flareAgainstFold(flare(flaredDiameterMm), isCracked, '1.16');
    expect(found.reachesFold).toBe(false);
    expect(found.words).toContain(words);
  });

  test('with a thinner wall at the mouth, the mean diameter grew by more than the outside one', () => {
    // 100 × 5 mm flared to 116 mm; at constant volume and length the wall becomes about 5/1.16 = 4.3 mm.
    expect((116 - 4.3) / (100 - 5)).toBeGreaterThan(1.16);
  });

  test.each(['0.99', '0', '-1.16'])('refuses κ = %s', (kappa) => {
    expect(() => flareAgainstFold(flare('116'), false, kappa)).toThrow(RangeError);
  });

  test('the cautions say that it is advisory and who decides', () => {
    expect(FOLD_CAUTIONS[0]).toBe('Advisory. The responsible engineer decides whether the pipe can be turned inside out.');
  });
});
