import { describe, expect, test } from '@jest/globals';
import { supplierQuestionOf } from './supplier-question.js';

const accepts = (query: Record<string, unknown>): boolean => {
  try {
    supplierQuestionOf(query);
    return true;
  } catch {
    return false;
  }
};

describe('supplierQuestionOf', () => {
  test('a mill alone is a question', () => {
    expect(supplierQuestionOf({ mill: 'Ferrant Strip Mill' })).toEqual({ mill: 'Ferrant Strip Mill', grade: null, thicknessMm: null, asKnownAt: null });
  });

  test('all filters are kept as they were given', () => {
    const query = { mill: 'M', grade: 'S420MC', thicknessMm: '5.00', asKnownAt: '2026-03-05T12:00:00Z' };
    expect(supplierQuestionOf(query)).toEqual(query);
  });

  test('thicknesses, one step either side of the bounds', () => {
    const taken = ['0.5', '0.499', '30', '30.000', '30.001', '-5', '5,0', '5e0', '', ' 5'].filter((thicknessMm) => accepts({ mill: 'M', thicknessMm }));
    expect(taken).toEqual(['0.5', '30', '30.000']);
  });

  test('names, one step either side of the bounds', () => {
    const long = (length: number): string => 'M'.repeat(length);
    expect([long(120), long(121), '', ' ', ['M', 'N'], 'M\u0000'].map((mill) => accepts({ mill }))).toEqual([true, false, false, false, false, false]);
    expect([long(60), long(61)].map((grade) => accepts({ mill: 'M', grade }))).toEqual([true, false]);
  });

  test('a question without a mill, or with what is not asked, is refused', () => {
    expect(accepts({})).toBe(false);
    expect(accepts({ mill: 'M', heat: 'H1' })).toBe(false);
  });
});
