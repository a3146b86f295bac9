import { describe, expect, test } from '@jest/globals';
import { flatteningSetUpChecks, type FlatteningSetUp } from '#libs/tube-tests';

const setUp: FlatteningSetUp = {
  tube: { outsideDiameterMm: '600', wallThicknessMm: '90' }, pieceLengthMm: '100', plateWidthMm: '960', on: { kind: 'piece' },
};
const outcomes = (given: FlatteningSetUp): Record<string, string> =>
  Object.fromEntries(flatteningSetUpChecks(given).map(({ name, outcome }) => [name, outcome]));
const allMet = { 'outside diameter': 'met', 'wall thickness': 'met', 'piece length': 'met', 'plate width': 'met' };

describe('flatteningSetUpChecks', () => {
  test('limits themselves are met', () => {
    expect(outcomes(setUp)).toEqual(allMet);
    expect(outcomes({ ...setUp, pieceLengthMm: '10' })).toEqual(allMet);
  });

  test.each<[string, Partial<FlatteningSetUp>]>([
    ['outside diameter', { tube: { outsideDiameterMm: '600.01', wallThicknessMm: '9' }, plateWidthMm: '961' }],
    ['wall thickness', { tube: { outsideDiameterMm: '600', wallThicknessMm: '90.001' } }],
    ['piece length', { pieceLengthMm: '100.1' }],
    ['piece length', { pieceLengthMm: '9.99' }],
    ['plate width', { plateWidthMm: '959.9' }],
  ])('just beyond a limit only %s is not met', (name, changes) => {
    expect(outcomes({ ...setUp, ...changes })).toEqual({ ...allMet, [name]: 'not met' });
  });

  test('says what was found, what is demanded, and by what', () => {
    expect(flatteningSetUpChecks(setUp)[1]).toEqual({
      name: 'wall thickness', outcome: 'met', found: '90 mm', demanded: 'at most 0.15 D = 90 mm', words: 'wall thickness 90 mm; demanded: at most 0.15 D = 90 mm',
      source: 'ISO 8492:2013 (from an extract of it)',
    });
  });

  test('what nobody recorded is neither met nor broken', () => {
    const found = flatteningSetUpChecks({ ...setUp, pieceLengthMm: null, plateWidthMm: null });
    expect(found.slice(2).map(({ outcome, words }) => [outcome, words])).toEqual([
      ['not recorded', 'piece length is not recorded; demanded: 10 to 100 mm'],
      ['not recorded', 'plate width is not recorded; demanded: at least 1.6 D = 960 mm'],
    ]);
  });

  test('on the end of a full tube the depth of the cut counts, and no length of a piece', () => {
    const cut = (cutDepthMm: string | null): Record<string, string> => outcomes({ ...setUp, on: { kind: 'tube-end', cutDepthMm } });
    expect(cut('480')).toEqual({ 'outside diameter': 'met', 'wall thickness': 'met', 'cut depth': 'met', 'plate width': 'met' });
    expect(cut('479.9')['cut depth']).toBe('not met');
    expect(cut(null)['cut depth']).toBe('not recorded');
  });

  test.each(['0', '-1'])('refuses a length of %s mm', (lengthMm) => {
    expect(() => flatteningSetUpChecks({ ...setUp, pieceLengthMm: lengthMm })).toThrow(new RangeError(`piece length must be over 0 mm: ${lengthMm}`));
  });
});
