import { describe, expect, test } from '@jest/globals';
import { EN_10051_CATEGORY_A, effectiveLimits, type OrderedSize, type Requirement, type ToleranceTable } from '#libs/strip';
import { requirement } from './evaluation.factory.js';

const ORDERED: OrderedSize = { thicknessMm: '5.00', widthMm: '383.0' };
const OWN: ToleranceTable = {
  name: 'Slit strip, agreed', edition: '1', source: 'annex 2',
  rows: [{ overMm: '4.0', toMm: '6.0', widths: [{ overMm: '300', toMm: '400', plusMinusMm: '0.125' }] }],
};

const about = (min: string | null, max: string | null, more: Partial<Requirement> = {}) =>
  requirement('thickness', { min, max, limitOf: 'deviation', ...more });
const limitsOf = (one: Requirement, ordered: OrderedSize | null = ORDERED) => {
  const found = effectiveLimits(one, ordered, [OWN]);
  return 'limits' in found ? [found.limits.min, found.limits.max, found.limits.unit] : found.missing;
};

describe('limits of the value itself', () => {
  test('stay as they are, with or without an order', () => {
    const strength = requirement('Rm', { min: '480', max: '620', clause: '5.2' });
    const same = { limits: { min: '480', max: '620', unit: 'MPa' }, words: '480 to 620 MPa', origin: 'clause 5.2' };
    expect(effectiveLimits(strength, null, [])).toEqual(same);
    expect(effectiveLimits(strength, ORDERED, [])).toEqual(same);
    expect(effectiveLimits(requirement('C', { max: '0.12' }), null, [])).toMatchObject({ words: 'at most 0.12 %', origin: 'the specification' });
  });
});

describe('deviations from the ordered size', () => {
  test('are added to the thickness, or to the width', () => {
    expect(effectiveLimits(about('-0.15', '0.20', { clause: '3.2' }), ORDERED, [])).toEqual({
      limits: { min: '4.85', max: '5.20', unit: 'mm' }, words: '4.85 to 5.20 mm', origin: '5.00 mm ordered, -0.15 to 0.20 mm, clause 3.2',
    });
    expect(limitsOf(requirement('width', { min: '0', max: '1.0', limitOf: 'deviation' }))).toEqual(['383.0', '384.0', 'mm']);
  });

  test.each([
    ['5', '-0.15', '4.85'], ['5.000', '-0.15', '4.850'], ['5.00', '-0.1', '4.90'], ['5.00', '0', '5.00'], ['5', '-1', '4'], ['0.50', '-0.15', '0.35'],
  ])('%s mm and %s mm: the digits of the finer one, %s mm', (thicknessMm, min, limit) => {
    expect(limitsOf(about(min, null), { ...ORDERED, thicknessMm })).toEqual([limit, null, 'mm']);
  });

  test('may lie on one side, both below the size included', () => {
    expect(limitsOf(about('-0.15', null))).toEqual(['4.85', null, 'mm']);
    expect(limitsOf(about(null, '0.15'))).toEqual([null, '5.15', 'mm']);
    expect(limitsOf(about('-0.30', '-0.10'))).toEqual(['4.70', '4.90', 'mm']);
  });

  test('in inches are exact where the size has an end in inches', () => {
    expect(effectiveLimits(about('-0.005', '0.010', { unit: 'in' }), { ...ORDERED, thicknessMm: '6.350' }, [])).toEqual({
      limits: { min: '0.245', max: '0.260', unit: 'in' }, words: '0.245 to 0.260 in', origin: '6.350 mm ordered, -0.005 to 0.010 in, the specification',
    });
    // 5.207 mm are 0.205 in.
    expect(limitsOf(about('-0.01', '0.01', { unit: 'in' }), { ...ORDERED, thicknessMm: '5.207' })).toEqual(['0.195', '0.215', 'in']);
  });

  test('in inches are cut outwards where it has none: 5 mm are 0.19685039370078… in', () => {
    expect(limitsOf(about('-0.006', '0.006', { unit: 'in' }))).toEqual(['0.190850393', '0.202850394', 'in']);
    expect(limitsOf(about('-0.2', '-0.1', { unit: 'in' }))).toEqual(['-0.003149607', '0.096850394', 'in']);
  });

  test('without an order, and in what is no length, are missing', () => {
    expect(effectiveLimits(about('-0.15', '0.15'), null, [])).toEqual({
      missing: 'no order says the ordered size that these limits start from', words: '-0.15 to 0.15 mm from the ordered size',
    });
    expect(limitsOf(about('-0.15', '0.15', { unit: 'MPa' }))).toBe('MPa is no unit of length');
    expect(limitsOf(about('-0.15', '0.15', { unit: 'HV10' }))).toBe('HV10 is no unit of length');
  });

  test('that are not limited need no order', () => {
    expect(limitsOf(about(null, null), null)).toEqual([null, null, 'mm']);
  });

  test('of an ordered size that is no number are refused', () => {
    expect(() => limitsOf(about('-0.15', null), { ...ORDERED, thicknessMm: '5,00' })).toThrow(SyntaxError);
  });
});

describe('tolerance tables', () => {
  const byTable = (toleranceTable: string): Requirement => requirement('thickness', { toleranceTable, clause: '3.2' });

  test('of a standard: EN 10051 category A, 5.01 mm in 383 mm is ± 0.26 mm', () => {
    expect(effectiveLimits(byTable('EN 10051 category A'), { ...ORDERED, thicknessMm: '5.01' }, [])).toEqual({
      limits: { min: '4.75', max: '5.27', unit: 'mm' }, words: '4.75 to 5.27 mm',
      origin: `5.01 mm ordered, EN 10051 category A, thickness over 5.00 to 6.00 mm, width over 0 to 1200 mm (${EN_10051_CATEGORY_A.source}), clause 3.2`,
    });
  });

  test('of the project, with the digits of the finer of both', () => {
    expect(limitsOf(byTable('Slit strip, agreed'))).toEqual(['4.875', '5.125', 'mm']);
  });

  test('of the project before a standard of the same name', () => {
    const found = effectiveLimits(byTable('EN 10051 category A'), ORDERED, [{ ...OWN, name: 'EN 10051 category A' }]);
    expect(found).toMatchObject({ words: '4.875 to 5.125 mm', origin: expect.stringContaining('(annex 2)') });
  });

  test('a cell that nobody could read is missing, and never taken from its neighbours', () => {
    // The row over 4.00 to 5.00 mm is not among those read in print.
    expect(effectiveLimits(byTable('EN 10051 category A'), ORDERED, [])).toEqual({
      missing: 'EN 10051 category A: no row with a source for a thickness of 5.00 mm', words: 'by the table EN 10051 category A',
    });
    expect(limitsOf(byTable('Slit strip, agreed'), { ...ORDERED, widthMm: '300' })).toBe(
      'Slit strip, agreed, thickness over 4.0 to 6.0 mm: no cell with a source for a width of 300 mm',
    );
    expect(limitsOf(byTable('Slit strip, agreed'), { ...ORDERED, widthMm: '300.1' })).toEqual(['4.875', '5.125', 'mm']);
  });

  test('without a table or an order are missing', () => {
    expect(limitsOf(byTable('EN 10051'))).toBe('there is no tolerance table EN 10051');
    expect(effectiveLimits(byTable('Slit strip, agreed'), null, [OWN])).toEqual({
      missing: 'no order says the ordered size that these limits start from', words: 'by the table Slit strip, agreed',
    });
  });

  test('for a size of 0 are refused', () => {
    expect(() => limitsOf(byTable('Slit strip, agreed'), { ...ORDERED, thicknessMm: '0' })).toThrow(RangeError);
  });
});
