import { describe, expect, test } from '@jest/globals';
import { atLeast, inspectionDocument, INSPECTION_DOCUMENT_TYPES, isInspectionDocumentType, isTypeOf1991 } from '#libs/strip';

describe('inspection documents', () => {
  test('a type will do where the same or a lower one is demanded', () => {
    const table = INSPECTION_DOCUMENT_TYPES.map((type) => INSPECTION_DOCUMENT_TYPES.map((demanded) => atLeast(type, demanded)));
    expect(table).toEqual([
      [true, false, false, false],
      [true, true, false, false],
      [true, true, true, false],
      [true, true, true, true],
    ]);
  });

  test('only the 3.x are of specific inspection', () => {
    expect(INSPECTION_DOCUMENT_TYPES.filter((type) => inspectionDocument(type).inspectionBasis === 'specific')).toEqual(['3.1', '3.2']);
  });

  test('names are matched letter for letter', () => {
    expect(['2.1', '3.2'].every(isInspectionDocumentType)).toBe(true);
    expect(['3.1.B', '3,1', '', 'toString'].some(isInspectionDocumentType)).toBe(false);
    expect(['3.1.B', '2.3'].every(isTypeOf1991)).toBe(true);
    expect(['3.1', '3.1.b', 'toString'].some(isTypeOf1991)).toBe(false);
  });
});
