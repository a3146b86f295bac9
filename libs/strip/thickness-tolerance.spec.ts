import { describe, expect, test } from '@jest/globals';
import { EN_10051_CATEGORY_A, findToleranceTable, THICKNESS_TOLERANCE_TABLES, thicknessTolerance, type ToleranceTable } from '#libs/strip';

const { source } = EN_10051_CATEGORY_A;
const own: ToleranceTable = {
  name: 'Project strip',
  edition: 'rev 2',
  source: 'project specification, rev 2',
  rows: [{ overMm: '5.5', toMm: '6.5', widths: [{ overMm: '250', toMm: '350', plusMinusMm: '0.12' }] }],
};

describe('thicknessTolerance', () => {
  test('gives the cell that holds thickness and width', () => {
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '6.00', '300')).toEqual({
      plusMm: '0.26', minusMm: '0.26', cell: 'thickness over 5.00 to 6.00 mm, width over 0 to 1200 mm', source,
    });
  });

  test('lower bounds are exclusive, upper ones inclusive', () => {
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '6.01', '1200')).toMatchObject({ plusMm: '0.29' });
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '6', '1200.1')).toMatchObject({ plusMm: '0.28' });
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '6', '1800')).toMatchObject({ plusMm: '0.29' });
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '6', '1801')).toMatchObject({ plusMm: '0.31' });
  });

  test('guesses nothing between rows, beside them or past a last width', () => {
    const missing = (thicknessMm: string): object => ({ missing: `EN 10051 category A: no row with a source for a thickness of ${thicknessMm} mm` });
    for (const thicknessMm of ['2.01', '4.50', '5', '9', '25.1']) {
      expect(thicknessTolerance(EN_10051_CATEGORY_A, thicknessMm, '300')).toEqual(missing(thicknessMm));
    }
    expect(thicknessTolerance(EN_10051_CATEGORY_A, '2', '1801')).toEqual({
      missing: 'EN 10051 category A, thickness over 0 to 2.00 mm: no cell with a source for a width of 1801 mm',
    });
  });

  test("reads a project's own table in the same way", () => {
    expect(thicknessTolerance(own, '6', '300')).toMatchObject({ plusMm: '0.12', source: 'project specification, rev 2' });
    expect(thicknessTolerance(own, '6', '250')).toHaveProperty('missing');
  });

  test('refuses what is no size', () => {
    expect(() => thicknessTolerance(own, '0', '300')).toThrow(new RangeError('nominal thickness must be over 0 mm: 0'));
    expect(() => thicknessTolerance(own, '6', '-300')).toThrow(new RangeError('width must be over 0 mm: -300'));
    expect(() => thicknessTolerance(own, '6 mm', '300')).toThrow(SyntaxError);
  });
});

describe('findToleranceTable', () => {
  test('finds each table by its own name', () => {
    expect(THICKNESS_TOLERANCE_TABLES.map(({ name }) => findToleranceTable(name))).toEqual(THICKNESS_TOLERANCE_TABLES);
    expect(findToleranceTable('en 10051 category a')).toBeNull();
  });
});
