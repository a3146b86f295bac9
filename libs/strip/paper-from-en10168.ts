import type { DocumentFault, En10168Document, En10168Field, En10168Product, FieldLeftOut } from './en10168-document.js';
import { isInCodes, meaningOfCode } from './en10168-fields.js';
import { holdsValue, readValue } from './en10168-values.js';
import type { TestContext } from './en10168-values.js';
import { findCharacteristic } from './characteristic.js';
import { isInspectionDocumentType, isTypeOf1991, TYPES_OF_1991 } from './inspection-document.js';
import type { InspectionDocumentType } from './inspection-document.js';
import type { Paper, PaperLine, PrintedValue } from './paper.js';

/** A certificate as it was keyed, and the fields it has no place for; or everything that is wrong with the document. */
export type PaperFromEn10168 =
  | {
    readonly paper: Paper;
    /** For each line of the paper, where in the document each of its values stands. */
    readonly paths: readonly (readonly string[])[];
    readonly leftOut: readonly FieldLeftOut[];
  }
  | { readonly faults: readonly DocumentFault[] };

/** What is read from one place: its result where there is one, and what is wrong. */
interface Reading<T> {
  readonly found: T;
  readonly faults: readonly DocumentFault[];
  readonly leftOut: readonly FieldLeftOut[];
}

/**
 * A document with the field codes of EN 10168 as a paper. Nothing is guessed: where a code does not say what was measured
 * (C11 the yield, C13 the gauge length, C31 and C32 the hardness scale, which C30 may name for its product, C71 to C99 the
 * element and the analysis) the document must, or there is a fault with its path. All faults are given at once.
 */
export function paperFromEn10168(document: En10168Document): PaperFromEn10168 {
  const type = documentType(document.A02);
  const products = document.products.map((product, index) => readProduct(`products[${index}]`, product));
  const faults = [
    ...(['A01', 'A03'] as const).flatMap((name) => (document[name].trim() === '' ? [{ path: name, fault: 'must not be empty' }] : [])),
    ...('fault' in type ? [{ path: 'A02', fault: type.fault }] : []),
    ...(isDay(document.Z02) ? [] : [{ path: 'Z02', fault: `not a day such as 2026-03-31: ${JSON.stringify(document.Z02)}` }]),
    ...(products.length === 0 ? [{ path: 'products', fault: 'no product' }] : []),
    ...products.flatMap((product) => product.faults),
  ];
  if (faults.length > 0 || 'fault' in type) return { faults };
  const paper: Paper = {
    number: document.A03,
    issuer: document.A01,
    documentType: type.type,
    issuedOn: document.Z02,
    orderNumber: document.A07 ?? null,
    specification: document.B02 ?? null,
    lines: products.map(({ found }) => found.line),
  };
  return { paper, paths: products.map(({ found }) => found.paths), leftOut: products.flatMap(({ leftOut }) => leftOut) };
}

function documentType(printed: string): { type: InspectionDocumentType } | { fault: string } {
  const text = printed.trim().replace(/^EN\s*10204(\s*:\s*2004)?[\s,/-]*/i, '');
  if (isInspectionDocumentType(text)) return { type: text };
  if (isTypeOf1991(text)) return { fault: `${text} is a type of 1991; in EN 10204:2004: ${TYPES_OF_1991[text]}` };
  return { fault: `not a type of EN 10204:2004: ${JSON.stringify(printed)}` };
}

function isDay(text: string): boolean {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? [];
  if (year === undefined || month === undefined || day === undefined) return false;
  const lastDay = new Date(Date.UTC(Number(year), Number(month), 0)).getUTCDate();
  return Number(month) >= 1 && Number(month) <= 12 && Number(day) >= 1 && Number(day) <= lastDay;
}

/** A line of the paper, and where in the document each of its values stands. */
interface ReadLine {
  readonly line: PaperLine;
  readonly paths: readonly string[];
}

interface ReadValue {
  readonly value: PrintedValue;
  readonly path: string;
}

function readProduct(path: string, product: En10168Product): Reading<ReadLine> {
  const context = readContext(path, product.fields);
  const readings = [
    ...dimensionFields(path, product).map((one) => readingOf(one.path, one.field, context.found)),
    ...product.fields.map((field, index) => readField(`${path}.fields[${index}]`, field, context.found)),
  ];
  const isNamed = [product.B07, product.C00].some((number) => number !== null && number.trim() !== '');
  const nameless = isNamed ? [] : [{ path, fault: 'neither a coil (B07) nor a heat (C00) is named' }];
  const found = readings.flatMap((reading) => reading.found);
  return {
    found: {
      line: { coilNumber: product.B07, heatNumber: product.C00, values: found.map(({ value }) => value) },
      paths: found.map((one) => one.path),
    },
    faults: [...nameless, ...context.faults, ...readings.flatMap(({ faults }) => faults)],
    leftOut: readings.flatMap(({ leftOut }) => leftOut),
  };
}

/** The dimensions of group B in the shape of fields, so that one way leads from every printed number to its value. */
function dimensionFields(path: string, { B09 = [], B10, B11 = [], B13 }: En10168Product): { path: string; field: En10168Field }[] {
  return [
    ...B09.map((one, index) => ({ path: `${path}.B09[${index}]`, field: { code: 'B09', ...one } })),
    ...(B10 === undefined ? [] : [{ path: `${path}.B10`, field: { code: 'B10', characteristic: 'length', ...B10 } }]),
    ...B11.map((one, index) => ({ path: `${path}.B11[${index}]`, field: { code: 'B11', ...one } })),
    ...(B13 === undefined ? [] : [{ path: `${path}.B13`, field: { code: 'B13', characteristic: 'mass', ...B13 } }]),
  ];
}

const NOTHING: Reading<readonly ReadValue[]> = { found: [], faults: [], leftOut: [] };

/** Fields that speak of the other tests of their product. */
const CONTEXT_CODES = ['C01', 'C02', 'C03', 'C30'];

function readContext(path: string, fields: readonly En10168Field[]): Reading<TestContext> {
  const faults: DocumentFault[] = [];
  const only = (code: string): { field: En10168Field; path: string } | null => {
    const [first, second] = fields.flatMap((field, index) => (field.code === code ? [{ field, path: `${path}.fields[${index}]` }] : []));
    if (second !== undefined) faults.push({ path: second.path, fault: `${code} twice in one product: state it beside each value instead` });
    return first ?? null;
  };
  const [location, direction, temperature, scale] = [only('C01'), only('C02'), only('C03'), only('C30')];
  if (temperature !== null && !/^-?\d+(\.\d+)?$/.test(temperature.field.value)) {
    faults.push({ path: `${temperature.path}.value`, fault: `not a temperature in °C: ${JSON.stringify(temperature.field.value)}` });
  }
  const hardnessScale = scale === null ? null : (scale.field.characteristic ?? scale.field.value);
  if (scale !== null && findCharacteristic(hardnessScale ?? '')?.family !== 'hardness') {
    faults.push({ path: `${scale.path}.characteristic`, fault: `say on which hardness scale it was measured; not ${JSON.stringify(hardnessScale)}` });
  }
  const found = {
    location: location?.field.value ?? null,
    direction: direction?.field.value ?? null,
    temperatureC: temperature?.field.value ?? null,
    hardnessScale,
  };
  return { found, faults, leftOut: [] };
}

function readField(path: string, field: En10168Field, context: TestContext): Reading<readonly ReadValue[]> {
  const { code } = field;
  const meaning = meaningOfCode(code);
  if (meaning === null || !(isInCodes(code, 'C01', 'C99') || isInCodes(code, 'D01', 'D99'))) {
    return { ...NOTHING, faults: [{ path: `${path}.code`, fault: `not a field of the inspection (C01 to C99) or of other tests (D01 to D99): ${JSON.stringify(code)}` }] };
  }
  if (CONTEXT_CODES.includes(code)) return NOTHING;
  if (holdsValue(field)) return readingOf(path, field, context);
  const value = field.unit == null ? field.value : `${field.value} ${field.unit}`;
  return { ...NOTHING, leftOut: [{ path, code, meaning, value }] };
}

function readingOf(path: string, field: En10168Field, context: TestContext): Reading<readonly ReadValue[]> {
  const read = readValue(path, field, context);
  return 'faults' in read ? { ...NOTHING, faults: read.faults } : { ...NOTHING, found: [{ value: read.value, path }] };
}
