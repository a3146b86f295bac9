import { describe, expect, test } from '@jest/globals';
import { compare, decimal } from '#libs/exact';
import { appliesToThickness, findCharacteristic, findGrade, type GradeLine, GRADES } from '#libs/strip';

const lines = GRADES.flatMap(({ grade, lines: own }) => own.map((line) => ({ grade, line })));

describe('grades', () => {
  test('no two have one standard and name, and each is found by them', () => {
    expect(GRADES.map(({ standard, grade }) => findGrade(standard, grade))).toEqual(GRADES);
    expect(findGrade('EN 10149-2', 'BM')).toBeNull();
    expect(findGrade('EN 10149-2', 's315mc')).toBeNull();
  });

  test('every line names a characteristic and one of its units, and its limits are decimals in order', () => {
    for (const { line } of lines) {
      expect(findCharacteristic(line.characteristic)?.units).toContain(line.unit);
      expect(line.min ?? line.max).not.toBeNull();
      if (line.min !== null && line.max !== null) expect(compare(decimal(line.min), decimal(line.max))).toBe(-1);
    }
  });

  test('only chemistry and carbon equivalents have an analysis', () => {
    const analysed = lines.filter(({ line }) => line.analysis !== null).map(({ line }) => findCharacteristic(line.characteristic)?.kind);
    expect(new Set(analysed)).toEqual(new Set(['chemistry', 'carbon-equivalent']));
  });

  test('at every thickness a grade asks for one elongation at most', () => {
    for (const thicknessMm of ['0.5', '2.99', '3', '3.00', '3.01', '30']) {
      const [first, second] = findGrade('EN 10149-2', 'S420MC')!.lines
        .filter((line) => line.characteristic.startsWith('A') && line.characteristic !== 'Al' && appliesToThickness(line, thicknessMm));
      expect(first?.characteristic).toBe(Number(thicknessMm) < 3 ? 'A80mm' : 'A');
      expect(second).toBeUndefined();
    }
  });

  test('each kind of thickness bound, one step either side', () => {
    const line = (thicknessMm?: GradeLine['thicknessMm']): GradeLine =>
      ({ characteristic: 'Rm', analysis: null, min: '1', max: null, unit: 'MPa', thicknessMm });
    expect(['24.99', '25', '25.01'].map((nominalMm) => appliesToThickness(line({ max: '25.0' }), nominalMm))).toEqual([true, true, false]);
    expect(['2.99', '3', '3.01'].map((nominalMm) => appliesToThickness(line({ below: '3' }), nominalMm))).toEqual([true, false, false]);
    expect(['2.99', '3', '3.01'].map((nominalMm) => appliesToThickness(line({ min: '3' }), nominalMm))).toEqual([false, true, true]);
    expect(appliesToThickness(line(), '99')).toBe(true);
    expect(() => appliesToThickness(line(), 'thin')).toThrow(SyntaxError);
  });
});
