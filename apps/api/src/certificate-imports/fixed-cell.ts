import { INSPECTION_DOCUMENT_TYPES, isInspectionDocumentType, isTypeOf1991, TYPES_OF_1991 } from '#libs/strip';
import type { FixedColumn } from './certificate-template.js';
import { dayFault, textFault } from './text-cell.js';

/** What is wrong with a cell of a fixed column, as a sentence with the limit, or null. */
export function fixedCellFault({ name, mayBeEmpty, longest, meaning }: FixedColumn, text: string): string | null {
  if (text === '') return mayBeEmpty ? null : `Empty. Each line needs it: ${meaning}.`;
  if (name === 'type') return documentTypeFault(text);
  if (name === 'issued') return dayFault(text);
  return textFault(text, longest);
}

const TAKEN = `${INSPECTION_DOCUMENT_TYPES.slice(0, -1).join(', ')} or ${INSPECTION_DOCUMENT_TYPES.at(-1) ?? ''} of EN 10204:2004`;

function documentTypeFault(text: string): string | null {
  if (isInspectionDocumentType(text)) return null;
  const spelt = text.toUpperCase().replace(/^3\.1\.?([ABC])$/, '3.1.$1');
  if (!isTypeOf1991(spelt)) return `No type of inspection document. Taken are ${TAKEN}.`;
  const now = TYPES_OF_1991[spelt];
  if (now === 'deleted') return `${spelt} is a type of the 1991 edition that was dropped. Taken are ${TAKEN}.`;
  return `${spelt} is a type of the 1991 edition, now ${now}. Write ${now}; taken are ${TAKEN}.`;
}
