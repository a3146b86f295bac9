import { describe, expect, test } from '@jest/globals';
import type { Requirement } from './requirement.js';
import { specificationDifferences } from './specification-difference.js';

const carbon: Requirement = {
  characteristic: 'C', analysis: 'heat', min: null, max: '0.14', unit: '%', limitOf: 'value', toleranceTable: null, toDecimals: null,
  expandedU: null, temperatureC: null, baseMm: null, clause: '4.1',
};

const differences = (before: readonly Requirement[], after: readonly Requirement[]) =>
  specificationDifferences({ provisions: { edge: 'slit' }, requirements: before }, { provisions: { edge: 'slit' }, requirements: after });

describe('what differs between two revisions', () => {
  test('nothing between a revision and itself', () => {
    expect(differences([carbon], [carbon])).toEqual([]);
  });

  test.each([
    ['tighter', '0.12'], ['looser', '0.16'],
    // 0.144 passes "at most 0.14" when rounded, and fails "at most 0.143": other decimals round in another place.
    ['other', '0.143'],
  ] as const)('a limit that is %s: at most %s %%', (effect, max) => {
    expect(differences([carbon], [{ ...carbon, max }])).toEqual([
      { what: 'C, heat analysis', before: 'at most 0.14 %, clause 4.1', after: `at most ${max} %, clause 4.1`, effect },
    ]);
  });

  test('a limit added on one side is tighter, taken away looser, moved on both sides neither', () => {
    const both = { ...carbon, min: '0.02' };
    expect(differences([carbon], [both])[0]?.effect).toBe('tighter');
    expect(differences([both], [carbon])[0]?.effect).toBe('looser');
    expect(differences([both], [{ ...carbon, min: '0.03', max: '0.15' }])[0]?.effect).toBe('other');
  });

  test('requirements added and dropped, the analysis being part of what a requirement is', () => {
    const product = { ...carbon, analysis: 'product' } as const;
    expect(differences([carbon], [product])).toEqual([
      { what: 'C, product analysis', before: null, after: 'at most 0.14 %, clause 4.1', effect: 'tighter' },
      { what: 'C, heat analysis', before: 'at most 0.14 %, clause 4.1', after: null, effect: 'looser' },
    ]);
  });

  test('a provision that changed is told with both texts', () => {
    const before = { provisions: { edge: 'mill', surface: null }, requirements: [] };
    const after = { provisions: { edge: 'slit', surface: 'pickled' }, requirements: [] };
    expect(specificationDifferences(before, after)).toEqual([
      { what: 'edge', before: 'mill', after: 'slit', effect: 'other' }, { what: 'surface', before: null, after: 'pickled', effect: 'other' },
    ]);
  });
});
