/**
 * Field codes of EN 10168:2004: which information an inspection document carries, not how it is written. Meanings as the
 * documentation of an open schema for that standard describes them; the text of the standard was not available.
 */
export interface En10168Group {
  readonly letter: 'A' | 'B' | 'C' | 'D' | 'Z';
  readonly title: string;
  readonly first: string;
  readonly last: string;
}

/** A code, or codes from `first` to `last`, and what a field with it holds. */
export interface En10168Codes {
  readonly first: string;
  readonly last: string;
  readonly meaning: string;
}

export const EN_10168_GROUPS: readonly En10168Group[] = [
  { letter: 'A', title: 'Commercial transactions and parties involved', first: 'A01', last: 'A99' },
  { letter: 'B', title: 'Description of products', first: 'B01', last: 'B99' },
  { letter: 'C', title: 'Inspection', first: 'C00', last: 'C99' },
  { letter: 'D', title: 'Other tests', first: 'D01', last: 'D99' },
  { letter: 'Z', title: 'Validation', first: 'Z01', last: 'Z99' },
];

const code = (first: string, meaning: string): En10168Codes => ({ first, last: first, meaning });
const codes = (first: string, last: string, meaning: string): En10168Codes => ({ first, last, meaning });
const SUPPLEMENTARY = 'Supplementary information';

/** Every code of every group once, in order. B11 is labelled as dimensions or as mass by different versions of the schema. */
export const EN_10168_CODES: readonly En10168Codes[] = [
  code('A01', "Manufacturer's works"),
  code('A02', 'Type of inspection document'),
  code('A03', 'Document number'),
  code('A04', "Manufacturer's mark"),
  code('A05', 'Originator of the document'),
  code('A06', 'Purchaser and/or consignee'),
  code('A07', 'Purchaser order number'),
  code('A08', "Manufacturer's works order number"),
  code('A09', 'Purchaser article number'),
  codes('A10', 'A99', SUPPLEMENTARY),
  code('B01', 'Product'),
  code('B02', 'Specification of the product'),
  code('B03', 'Any supplementary requirements'),
  code('B04', 'Delivery condition'),
  code('B05', 'Reference (heat) treatment of samples'),
  code('B06', 'Marking of the product'),
  code('B07', 'Identification of the product (cast, ingot, rolling, batch, test number)'),
  code('B08', 'Number of pieces'),
  code('B09', 'Product dimensions'),
  code('B10', 'Length'),
  code('B11', 'Dimensions (schema label: product mass)'),
  code('B12', 'Theoretical mass'),
  code('B13', 'Actual mass'),
  codes('B14', 'B99', SUPPLEMENTARY),
  code('C00', 'Identification (heat, melt or batch number)'),
  code('C01', 'Location of the sample'),
  code('C02', 'Direction of the test piece'),
  code('C03', 'Test temperature'),
  codes('C04', 'C09', SUPPLEMENTARY),
  code('C10', 'Tensile test: shape of the test piece'),
  code('C11', 'Tensile test: yield or proof strength'),
  code('C12', 'Tensile test: tensile strength'),
  code('C13', 'Tensile test: elongation after fracture'),
  codes('C14', 'C29', 'Tensile test: supplementary information'),
  code('C30', 'Hardness test: method'),
  code('C31', 'Hardness test: individual values'),
  code('C32', 'Hardness test: mean value'),
  codes('C33', 'C39', 'Hardness test: supplementary information'),
  code('C40', 'Notched bar impact test: type of test piece'),
  code('C41', 'Notched bar impact test: width of test piece'),
  code('C42', 'Notched bar impact test: individual values'),
  code('C43', 'Notched bar impact test: mean value'),
  codes('C44', 'C49', 'Notched bar impact test: supplementary information'),
  codes('C50', 'C69', 'Other mechanical tests'),
  code('C70', 'Steelmaking process (Y = basic oxygen, E = electric furnace)'),
  codes('C71', 'C92', 'Chemical composition'),
  codes('C93', 'C99', 'Chemical composition: supplementary information'),
  code('D01', 'Marking and identification, surface appearance, shape and dimensional properties'),
  codes('D02', 'D50', 'Non-destructive tests'),
  codes('D51', 'D99', 'Other product tests'),
  code('Z01', 'Statement of compliance'),
  code('Z02', 'Date of issue and validation'),
  code('Z03', 'Stamp of the inspection representative'),
  code('Z04', 'CE marking'),
  codes('Z05', 'Z99', SUPPLEMENTARY),
];

/** What a field with this code holds; null when no group has the code. */
export function meaningOfCode(text: string): string | null {
  return /^[A-Z]\d\d$/.test(text) ? (EN_10168_CODES.find((one) => isInCodes(text, one.first, one.last))?.meaning ?? null) : null;
}

/** Whether a code lies from `first` to `last`, both of one group. */
export function isInCodes(text: string, first: string, last: string): boolean {
  return text.length === 3 && text.startsWith(first.charAt(0)) && text >= first && text <= last;
}
