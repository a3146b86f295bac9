import { CHARACTERISTICS, findCharacteristic } from '#libs/strip';
import { type CsvFault, CSV_LIMITS, shownText } from './csv-fault.js';
import { nearestOf } from './nearest-name.js';
import { characteristicOf, codeOf, identityOf, readValueHeader, type ValueHeader } from './value-header.js';

/** A column that every line has beside its values. */
export interface FixedColumn {
  readonly name: FixedName;
  /** Whether the file may leave the column out. */
  readonly optional: boolean;
  /** Whether a cell of it may be empty. */
  readonly mayBeEmpty: boolean;
  readonly longest: number;
  readonly meaning: string;
  readonly examples: readonly [string, string];
}

export type FixedName = 'certificate' | 'issuer' | 'type' | 'issued' | 'order' | 'specification' | 'coil' | 'heat';

/** The columns beside the values, in the order of the template; a file may have them in any order. */
export const FIXED_COLUMNS: readonly FixedColumn[] = [
  fixed('certificate', 60, 'number of the certificate; its lines stand together', ['TS-2026-00417', 'TS-2026-00417']),
  fixed('issuer', 120, 'who issued it', ['Tarnwick Steelworks', 'Tarnwick Steelworks']),
  fixed('type', 3, 'type of EN 10204: 2.1, 2.2, 3.1 or 3.2', ['3.1', '3.1']),
  fixed('issued', 10, 'day printed on it, YYYY-MM-DD', ['2026-01-22', '2026-01-22']),
  { ...fixed('order', 60, 'order number', ['PO-1187', 'PO-1187']), optional: true, mayBeEmpty: true },
  { ...fixed('specification', 120, 'specification with its revision', ['HS-STRIP-80 rev 2', 'HS-STRIP-80 rev 2']), optional: true, mayBeEmpty: true },
  { ...fixed('coil', 60, 'coil number; empty on a line that speaks of a heat alone', ['LM-01', 'LM-02']), mayBeEmpty: true },
  fixed('heat', 60, 'heat number', ['H40711', 'H40711']),
];

function fixed(name: FixedName, longest: number, meaning: string, examples: readonly [string, string]): FixedColumn {
  return { name, optional: false, mayBeEmpty: false, longest, meaning, examples };
}

/** Value columns of the template, with a value for each of its two lines. The heat analysis is the same on both. */
const EXAMPLE_VALUES: readonly (readonly [string, string, string])[] = [
  ['thickness [mm]', '5.02', '4.98'],
  ['width [mm]', '383.2', '383.0'],
  ['mass [kg]', '9850', '9720'],
  ['camber over 2000 [mm]', '-1.5', '2'],
  ['C [%]', '0.085', '0.085'],
  ['C product [%]', '0.088', ''],
  ['S x1000 [%]', '4', '4'],
  ['N [ppm]', '52', '52'],
  ['Ti [%]', '<0.001', '<0.001'],
  ['ReH [MPa]', '462', '455'],
  ['Rm [MPa]', '541', '536'],
  ['A80mm [%]', '24.5', '25.0'],
  ['KV2 @-20 [J]', '>=100', '96'],
  ['HV10 [HV10]', '178', '175'],
];

/** A column of a file, as its header says. */
export type CertificateColumn =
  | { readonly kind: 'fixed'; readonly header: string; readonly fixed: FixedColumn }
  | { readonly kind: 'value'; readonly header: string; readonly value: ValueHeader };

export type ParsedHeader = { readonly columns: readonly CertificateColumn[] } | { readonly faults: readonly CsvFault[] };

/** Reads the header line of a file: what each column means, or everything that is wrong with it. */
export function parseHeader(cells: readonly string[], mostColumns = CSV_LIMITS.columns): ParsedHeader {
  if (cells.length > mostColumns) {
    const fault = `${cells.length} columns; at most ${mostColumns} are taken.`;
    return { faults: [{ line: 1, column: mostColumns + 1, header: null, value: shownText(cells[mostColumns] ?? ''), fault }] };
  }
  const columns: CertificateColumn[] = [];
  const faults: CsvFault[] = [];
  const firstOf = new Map<string, number>();
  for (const [index, header] of cells.entries()) {
    const read = readColumn(header);
    const identity = typeof read === 'string' ? null : read.kind === 'fixed' ? read.header : identityOf(read.value);
    const first = identity === null ? undefined : firstOf.get(identity);
    if (typeof read === 'string') faults.push(headerFault(index, header, read));
    else if (first !== undefined) faults.push(headerFault(index, header, `The same as column ${first + 1}, “${cells[first] ?? ''}”. Each column comes once.`));
    else columns.push(read);
    if (identity !== null && first === undefined) firstOf.set(identity, index);
  }
  faults.push(...missing(columns, cells));
  return faults.length > 0 ? { faults } : { columns };
}

const headerFault = (index: number, header: string, fault: string): CsvFault => ({
  line: 1, column: index + 1, header: shownText(header), value: shownText(header), fault,
});

const LONGEST_HEADER = 80;

function readColumn(header: string): CertificateColumn | string {
  if (header.length > LONGEST_HEADER) return `The name of a column has at most ${LONGEST_HEADER} characters; this one has ${header.length}.`;
  const found = FIXED_COLUMNS.find(({ name }) => name === header);
  if (found !== undefined) return { kind: 'fixed', header, fixed: found };
  const characteristic = characteristicOf(header);
  if (characteristic === null) return unknownColumn(header);
  const value = readValueHeader(header, characteristic);
  return typeof value === 'string' ? value : { kind: 'value', header, value };
}

const SEPARATOR = /[;\t|]/;
const NAMES: ReadonlyMap<string, string> = new Map([
  ...FIXED_COLUMNS.map(({ name }): [string, string] => [name, name]),
  ...CHARACTERISTICS.map(({ code }): [string, string] => [code, code]),
  ...CHARACTERISTICS.map(({ code, name }): [string, string] => [name, code]),
]);

function unknownColumn(header: string): string {
  if (header.trim() === '') return 'A column without a name. Leave it out, with the comma before it.';
  if (header.trim() !== header) return 'A blank before or after the name of the column. Leave it out.';
  const separator = SEPARATOR.exec(header);
  if (separator !== null) return `Mixed separators: ${separator[0] === '\t' ? 'a tab' : `“${separator[0]}”`} stands among the commas. Cells are separated by commas alone.`;
  const nearest = NAMES.get(nearestOf(withoutDetails(header), [...NAMES.keys()])) ?? '';
  const unit = findCharacteristic(nearest)?.units[0];
  return `No such column. The nearest known one is ${nearest}${unit === undefined ? '' : ` [${unit}]`}.`;
}

/** The words before a unit or a detail: a name may have several, and a code has one. */
const withoutDetails = (header: string): string => header.replace(/ ?(\[|@| over | x\d| (heat|product)\b).*$/, '') || codeOf(header);

function missing(columns: readonly CertificateColumn[], cells: readonly string[]): CsvFault[] {
  const needed = FIXED_COLUMNS.filter(({ name, optional }) => !optional && !cells.includes(name));
  const faults = needed.map(({ name, meaning }) => absent(name, `The column ${name} is missing: ${meaning}.`));
  const hasValues = columns.some(({ kind }) => kind === 'value') || cells.length > FIXED_COLUMNS.length;
  return hasValues || needed.length > 0 ? faults : [absent(null, 'No column with values, such as C [%] or thickness [mm].')];
}

const absent = (header: string | null, fault: string): CsvFault => ({ line: 1, column: null, header, value: null, fault });

/** One column of the template as the documentation shows it. */
export interface TemplateColumn {
  readonly header: string;
  readonly meaning: string;
  readonly needed: 'in each line' | 'cells may be empty' | 'may be left out';
}

/** What stands in each column of the template. */
export function templateColumns(): TemplateColumn[] {
  const values = EXAMPLE_VALUES.map(([header]): TemplateColumn => ({ header, meaning: characteristicOf(header)?.name ?? '', needed: 'may be left out' }));
  const fixedOnes = FIXED_COLUMNS.map(({ name, meaning, optional, mayBeEmpty }): TemplateColumn => ({
    header: name, meaning, needed: optional ? 'may be left out' : mayBeEmpty ? 'cells may be empty' : 'in each line',
  }));
  return [...fixedOnes, ...values];
}

/** The template, ready to be filled in: the header line and two example lines, in UTF-8 with CR LF. */
export function templateCsv(): string {
  const header = [...FIXED_COLUMNS.map(({ name }) => name), ...EXAMPLE_VALUES.map(([name]) => name)];
  const lines = [0, 1].map((index) => [
    ...FIXED_COLUMNS.map(({ examples }) => examples[index] ?? ''),
    ...EXAMPLE_VALUES.map(([, ...values]) => values[index] ?? ''),
  ]);
  return [header, ...lines].map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');
}

const quoted = (cell: string): string => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
