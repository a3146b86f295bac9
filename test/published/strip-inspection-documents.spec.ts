import { describe, expect, test } from '@jest/globals';
import type { En10168Document, En10168Field } from '#libs/strip';
import {
  EN_10168_CODES, EN_10168_GROUPS, findCharacteristic, inspectionDocument, INSPECTION_DOCUMENT_TYPES, isInspectionDocumentType, meaningOfCode,
  paperFromEn10168, TYPES_OF_1991,
} from '#libs/strip';
import { checkOf, expectedOf, inputText, titled, tradeCases, type TradeCase } from './trade-cases.js';

const cases = tradeCases('03-inspection-documents.json');

function checkType(given: TradeCase): void {
  const type = inputText(given, 'type');
  if (!isInspectionDocumentType(type)) throw new Error(`not a type: ${type}`);
  const { title, testResultsIncluded, inspectionBasis, validatedBy } = inspectionDocument(type);
  const found = { title, test_results_included: testResultsIncluded, inspection_basis: inspectionBasis, validated_by: validatedBy };
  expect(found).toEqual(Object.fromEntries(given.expected.map(({ name, value }) => [name, value])));
}

/** Both ends of every range, and one code in the middle of it. */
function checkFields(given: TradeCase): void {
  for (const { name, value } of given.expected) {
    const [first, last = first] = name.split('-') as [string, string?];
    const [from, to] = [Number(first.slice(1)), Number(last.slice(1))];
    const numbers = [from, Math.floor((from + to) / 2), to];
    const codes = numbers.map((number) => first.charAt(0) + String(number).padStart(2, '0'));
    expect(codes.map(meaningOfCode)).toEqual([value, value, value]);
  }
  const letter = given.id.slice(-1);
  expect(EN_10168_CODES.filter(({ first }) => first.startsWith(letter))).toHaveLength(given.expected.length);
}

function withChemistry(unit: string | null): En10168Document {
  const field: En10168Field = { code: 'C71', symbol: 'C', analysis: 'heat', value: '0.085', unit };
  return { A01: 'Works', A02: '3.1', A03: '1', Z02: '2026-01-31', products: [{ B07: '1', C00: '1', fields: [field] }] };
}

/**
 * The open schema names the groups as sections and lists what it makes mandatory. Its object is not ours; seen is that the
 * sections are the groups, that every code it demands has a meaning in its group, and that chemistry is read from the same
 * three keys. Minimum, Maximum and Formula are not read: limits come from the specification, sums are computed.
 */
function checkStructure(given: TradeCase): void {
  const list = (name: string): unknown[] => expectedOf(given, name).value as unknown[];
  const sections = ['CommercialTransaction', 'ProductDescription', 'Inspection', 'OtherTests', 'Validation'];
  expect(list('sections')).toEqual(sections);
  expect(EN_10168_GROUPS).toHaveLength(sections.length);
  const mandatory = { A: 'mandatory_commercial', B: 'mandatory_product', C: 'mandatory_inspection', Z: 'mandatory_validation' };
  for (const [letter, name] of Object.entries(mandatory)) {
    for (const code of list(name) as string[]) {
      expect(code.charAt(0)).toBe(letter);
      expect(meaningOfCode(code)).not.toBeNull();
    }
  }
  const read: (keyof En10168Field)[] = ['symbol', 'value', 'unit'];
  expect(read).toEqual(['Symbol', 'Actual', 'Unit'].map((key) => (key === 'Actual' ? 'value' : key.toLowerCase())));
  expect(new Set(list('chemical_element_keys'))).toEqual(new Set(['Symbol', 'Actual', 'Unit', 'Minimum', 'Maximum', 'Formula']));
  for (const unit of list('unit_values') as (string | null)[]) {
    const converted = paperFromEn10168(withChemistry(unit));
    if (unit === null) expect(converted).toMatchObject({ faults: [{ path: 'products[0].fields[0].unit' }] });
    else expect(converted).toMatchObject({ paper: { lines: [{ values: [{ characteristic: 'C', printed: '0.085', unit }] }] } });
  }
  expect(findCharacteristic('C')?.units).toEqual(list('unit_values').filter((unit) => unit !== null));
}

const checks: Readonly<Record<string, (given: TradeCase) => void>> = {
  ...Object.fromEntries(INSPECTION_DOCUMENT_TYPES.map((type) => [`en10204-type-${type.replace('.', '-')}`, checkType])),

  'en10204-1991-to-2004': (given) => {
    const named = given.expected.map(({ name, value }) => [name.replace(' (1991 report)', ''), value] as const);
    expect(TYPES_OF_1991).toEqual(Object.fromEntries(named));
  },

  'en10168-groups': (given) => {
    const found = EN_10168_GROUPS.map(({ letter, title, first, last }) => [`group_${letter}`, { title, first, last }]);
    expect(found).toEqual(given.expected.map(({ name, value }) => [name, value]));
    for (const { first, last } of EN_10168_GROUPS) {
      expect([first, last].map((code) => meaningOfCode(code) === null)).toEqual([false, false]);
    }
    expect(['A00', 'B00', 'D00', 'Z00', 'E01', 'A100'].map(meaningOfCode)).toEqual([null, null, null, null, null, null]);
  },

  ...Object.fromEntries(['A', 'B', 'C', 'D', 'Z'].map((letter) => [`en10168-fields-${letter}`, checkFields])),
  'en10168-json-structure': checkStructure,
};

describe('published inspection documents', () => {
  test.each(titled(cases))('%s', (_title, given) => {
    expect(given.expected).not.toHaveLength(0);
    checkOf(checks, given)(given);
  });

  test('every check belongs to a case, and no case appears twice', () => {
    expect(cases.map(({ id }) => id).sort()).toEqual(Object.keys(checks).sort());
  });
});
