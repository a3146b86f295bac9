import { describe, expect, test } from '@jest/globals';
import type { Requirement } from './requirement.js';
import { limitsText, requirementText, specificationDifferences } from './specification-difference.js';

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

describe('a requirement that stays, and changes', () => {
  test.each([
    ['in its unit', { unit: 'ppm', max: '0.10' }], ['in the place it is rounded to', { toDecimals: 3, max: '0.10' }],
    ['in its uncertainty', { expandedU: '0.005', max: '0.10' }], ['in its clause alone', { clause: '4.2' }],
  ] as const)('%s is neither tighter nor looser, whatever its limits do', (_what, change) => {
    expect(differences([carbon], [{ ...carbon, ...change }]).map(({ effect }) => effect)).toEqual(['other']);
  });

  test('from limits to a table, and from one table to another, is neither', () => {
    const thickness: Requirement = { ...carbon, characteristic: 'thickness', analysis: null, min: '4.85', max: '5.15', unit: 'mm' };
    const byTable: Requirement = { ...thickness, min: null, max: null, toleranceTable: 'EN 10051 category A' };
    expect(differences([thickness], [byTable])).toEqual([
      { what: 'thickness', before: '4.85 to 5.15 mm, clause 4.1', after: 'by the table EN 10051 category A, clause 4.1', effect: 'other' },
    ]);
    expect(differences([byTable], [{ ...byTable, toleranceTable: 'Slit strip, agreed' }])[0]?.effect).toBe('other');
  });

  test('in a deviation is told by how far the strip may lie from its size', () => {
    const wide: Requirement = { ...carbon, characteristic: 'thickness', analysis: null, min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation' };
    expect(differences([wide], [{ ...wide, min: '-0.10' }])[0]?.effect).toBe('tighter');
    expect(differences([wide], [{ ...wide, min: '-0.20' }])[0]?.effect).toBe('looser');
    expect(differences([wide], [{ ...wide, min: '-0.10', max: '0.20' }])[0]?.effect).toBe('other');
  });

  test('in its test temperature is another requirement', () => {
    const impact: Requirement = { ...carbon, characteristic: 'KV2', analysis: null, min: '40', max: null, unit: 'J', temperatureC: '-20', clause: null };
    expect(differences([impact], [{ ...impact, temperatureC: '-40' }])).toEqual([
      { what: 'KV2 at -40 °C', before: null, after: 'at least 40 J', effect: 'tighter' }, { what: 'KV2 at -20 °C', before: 'at least 40 J', after: null, effect: 'looser' },
    ]);
  });

  test('the order of requirements is no difference', () => {
    const manganese = { ...carbon, characteristic: 'Mn', max: '1.60' };
    expect(differences([carbon, manganese], [manganese, carbon])).toEqual([]);
  });
});

describe('requirements in words', () => {
  test.each([
    ['480 to 620 MPa', { min: '480', max: '620', unit: 'MPa' }], ['at least 420 MPa', { min: '420', max: null, unit: 'MPa' }],
    ['at most 0.12 %', { min: null, max: '0.12', unit: '%' }], ['report only', { min: null, max: null, unit: '%' }], ['at most 0.93', { min: null, max: '0.93', unit: '1' }],
  ] as const)('%s', (words, limits) => {
    expect(limitsText(limits)).toBe(words);
  });

  test('tell all that bears on a value', () => {
    expect(requirementText({ ...carbon, min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation', toDecimals: 3, expandedU: '0.01' })).toBe(
      '-0.15 to 0.15 mm, from the ordered size, rounded to 3 decimals, U 0.01 where none is stated, clause 4.1',
    );
    expect(requirementText({ ...carbon, max: null, toleranceTable: 'Slit strip, agreed', clause: null })).toBe('by the table Slit strip, agreed');
  });
});
