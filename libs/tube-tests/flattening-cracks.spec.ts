import { describe, expect, test } from '@jest/globals';
import { judgeCracks5st, type Crack } from '#libs/tube-tests';

const findingOf = (length: string, unit: Crack['unit'], place: Crack['place']): string =>
  judgeCracks5st([{ length, unit, place }]).findings[0]!.finding;

describe('judgeCracks5st', () => {
  test.each<[string, Crack['unit'], Crack['place'], string]>([
    ['3.2', 'mm', 'elsewhere', 'accepted'],
    ['3.21', 'mm', 'elsewhere', 'rejected'],
    ['0.125', 'in', 'elsewhere', 'accepted'],
    ['0.126', 'in', 'elsewhere', 'rejected'],
    ['6.39', 'mm', 'edge', 'ignored'],
    ['6.4', 'mm', 'edge', 'rejected'],
    ['0.249', 'in', 'edge', 'ignored'],
    ['0.25', 'in', 'edge', 'rejected'],
  ])('%s %s at %s is %s', (length, unit, place, finding) => {
    expect(findingOf(length, unit, place)).toBe(finding);
  });

  test('one rejected crack rejects the piece; each says why', () => {
    const found = judgeCracks5st([{ length: '2.0', unit: 'mm', place: 'elsewhere' }, { length: '7.0', unit: 'mm', place: 'edge' }]);
    expect(found.accepted).toBe(false);
    expect(found.findings.map(({ words }) => words)).toEqual([
      '2.0 mm not at an edge, at most 3.2 mm', '7.0 mm at an edge, not below 6.4 mm, over 3.2 mm',
    ]);
    expect(found.source).toContain('API Spec 5ST 6.2.4');
  });

  test('a piece without cracks is accepted', () => {
    expect(judgeCracks5st([])).toMatchObject({ accepted: true, findings: [] });
  });

  test('refuses a crack without length', () => {
    expect(() => judgeCracks5st([{ length: '0', unit: 'in', place: 'edge' }])).toThrow(new RangeError('length of a crack must be over 0 in: 0'));
  });
});
