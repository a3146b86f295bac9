import { columnOf, fileOf, GOOD_HEADER, inPieces, largeFile, LARGE_HEADER, largeLine, lineOf, textOf } from './certificate-files.js';

/** A file that must be refused, whatever way it comes in, and what must be told of it first. */
export interface BrokenFile {
  readonly name: string;
  /** What the file is called. */
  readonly fileName: string;
  readonly bytes: () => AsyncIterable<Uint8Array>;
  /** Where the first fault is told, both counted from 1; a fault of a whole line or file has no column. */
  readonly line: number;
  readonly column: number | null;
  readonly says: RegExp;
}

/** A file that looks odd and must be taken. */
export interface OddFile {
  readonly name: string;
  readonly bytes: () => AsyncIterable<Uint8Array>;
  readonly certificates: number;
  readonly coils: number;
  readonly questions: number;
}

const CSV = 'certificates.csv';

function broken(name: string, content: string | Uint8Array, line: number, column: number | null, says: RegExp, fileName = CSV): BrokenFile {
  return { name, fileName, bytes: () => inPieces(content), line, column, says };
}

/** A good line, and below it one with a bad cell. */
function badCell(name: string, header: string, value: string, says: RegExp): BrokenFile {
  return broken(name, fileOf(lineOf(), lineOf({ coil: 'LM-02', [header]: value })), 3, columnOf(header), says);
}

/** A good line below a header with a bad column. */
function badHeader(name: string, header: string, instead: string, says: RegExp): BrokenFile {
  return broken(name, textOf(GOOD_HEADER.map((one) => (one === header ? instead : one)), lineOf()), 1, columnOf(header), says);
}

const bytesOf = (text: string): Buffer => Buffer.from(text, 'latin1');
const without = (header: string): ((cells: readonly string[]) => string[]) => (cells) => cells.filter((_, index) => index !== columnOf(header) - 1);
const inSecondLine = (cell: string): string => fileOf(lineOf(), lineOf({ coil: 'LM-02' })).replace('LM-02', cell);

const NOT_TEXT: readonly BrokenFile[] = [
  broken('an empty file', '', 1, null, /empty/),
  broken('a byte order mark and nothing else', '\uFEFF', 1, null, /empty/),
  broken('UTF-16 with its mark', Buffer.from(`\uFEFF${fileOf(lineOf())}`, 'utf16le'), 1, null, /UTF-16/),
  broken('UTF-16 without a mark', Buffer.from(fileOf(lineOf()), 'utf16le'), 1, null, /UTF-16/),
  broken('UTF-16 the other way round', Buffer.from(`\uFEFF${fileOf(lineOf())}`, 'utf16le').swap16(), 1, null, /UTF-16/),
  broken('a zip archive named csv', bytesOf('PK\x03\x04\x14\x00\x08\x00\x08\x00zip\n'), 1, null, /zip archive/),
  broken('a zip archive named pdf', bytesOf('PK\x03\x04\x14\x00\x08\x00\x08\x00zip\n'), 1, null, /zip archive/, 'certificates.pdf'),
  broken('a PDF document named csv', bytesOf('%PDF-1.7\n%\xE2\xE3\xCF\xD3\n'), 1, null, /PDF/),
  broken('a PNG image named csv', bytesOf('\x89PNG\r\n\x1A\n\x00\x00\x00\rIHDR'), 1, null, /PNG/),
  broken('a JPEG image named csv', bytesOf('\xFF\xD8\xFF\xE0\x00\x10JFIF\x00'), 1, null, /JPEG/),
  broken('a workbook of the older kind', bytesOf('\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1\x00\x00'), 1, null, /xls/),
  broken('a web page', '<!DOCTYPE html><title>Certificates</title>\n', 1, null, /web page/),
  broken('a zero byte in a cell', inSecondLine('LM\0-02'), 3, columnOf('coil'), /zero byte/),
  broken('Latin-1 instead of UTF-8', bytesOf(inSecondLine('Stra\xDFe')), 3, columnOf('coil'), /no UTF-8/),
  broken('a letter cut in two', bytesOf(inSecondLine('LM-\xC3')), 3, columnOf('coil'), /no UTF-8/),
  broken('a byte order mark inside the file', `${fileOf(lineOf())}\uFEFF${textOf(lineOf({ coil: 'LM-02' }))}`, 3, 1, /byte order mark inside/),
  broken('two byte order marks', `\uFEFF\uFEFF${fileOf(lineOf())}`, 1, 1, /byte order mark inside/),
];

const LINES: readonly BrokenFile[] = [
  broken('a header and nothing else', fileOf(), 1, null, /header and no line below/),
  broken('a header without a line end', fileOf().trimEnd(), 1, null, /header and no line below/),
  broken('no line ends', fileOf(lineOf()).replaceAll('\n', ' '), 1, null, /no line end/),
  broken('lines that end with CR alone', fileOf(lineOf()).replaceAll('\n', '\r'), 1, null, /CR alone/),
  broken('a CR inside a line', inSecondLine('LM\r-02'), 3, columnOf('coil'), /carriage return/),
  broken('a line longer than 64 KiB', fileOf(lineOf({ coil: 'x'.repeat(66_000) })), 2, null, /longer than 65,536 bytes/),
  broken('a blank first line', `\n${fileOf(lineOf())}`, 1, null, /first line is blank/),
  broken('a blank line inside', `${fileOf(lineOf())}\n${textOf(lineOf({ coil: 'LM-02' }))}`, 3, null, /blank line/i),
  broken('a line of commas inside', fileOf(lineOf(), lineOf().map(() => ''), lineOf({ coil: 'LM-02' })), 3, null, /blank line/i),
  broken('a comment above the header', `# made by hand\n${fileOf(lineOf())}`, 1, 1, /comment/i),
  broken('a comment inside', `${fileOf(lineOf())}# checked\n`, 3, 1, /comment/i),
  broken('semicolons', fileOf(lineOf()).replaceAll(',', ';'), 1, 1, /semicolons.*Commas are taken/),
  broken('tabs', fileOf(lineOf()).replaceAll(',', '\t'), 1, 1, /tabs.*Commas are taken/),
  broken('vertical bars', fileOf(lineOf()).replaceAll(',', '|'), 1, 1, /vertical bars.*Commas are taken/),
  broken('semicolons below a header with commas', fileOf(lineOf(), [lineOf().join(';')]), 3, 1, /Mixed separators: semicolons/),
  broken('a cell too few', fileOf(lineOf().slice(0, -1)), 2, GOOD_HEADER.length, /Too few cells/),
  broken('a cell too many', fileOf([...lineOf(), '1']), 2, GOOD_HEADER.length + 1, /Too many cells/),
  broken('a decimal comma without quotes', fileOf(lineOf({ 'C [%]': '0,085' })), 2, GOOD_HEADER.length + 1, /Too many cells.*decimal comma/),
  broken('a quote that does not close', inSecondLine('"LM-02'), 3, columnOf('coil'), /does not close/),
  broken('a quote that does not close, at the end', fileOf(lineOf({ 'KV2 @-20 [J]': '"96' })).trimEnd(), 2, GOOD_HEADER.length, /does not close/),
  broken('a line break in quotes', inSecondLine('"LM\n02"'), 3, columnOf('coil'), /No cell holds a line break/),
  broken('a quote inside a cell without quotes', inSecondLine('LM"02'), 3, columnOf('coil'), /quote inside a cell/i),
  broken('text after the closing quote', inSecondLine('"LM"-02'), 3, columnOf('coil'), /after the closing quote/),
];

const HEADERS: readonly BrokenFile[] = [
  broken('no heat column', textOf(...[GOOD_HEADER, lineOf()].map(without('heat'))), 1, null, /column heat is missing/),
  broken('no column with values', textOf(...[GOOD_HEADER, lineOf()].map((cells) => cells.slice(0, 8))), 1, null, /No column with values/),
  badHeader('a column misspelt', 'thickness [mm]', 'thicknes [mm]', /nearest known one is thickness \[mm\]/),
  badHeader('a column in words', 'C [%]', 'Carbon [%]', /nearest known one is C \[%\]/),
  badHeader('a column in capitals', 'heat', 'HEAT', /nearest known one is heat/),
  badHeader('a blank before a column', 'C [%]', ' C [%]', /blank before or after/i),
  badHeader('a column without a name', 'C [%]', '', /without a name/),
  badHeader('a semicolon in the header', 'C [%]', 'C [%];Mn [%]', /Mixed separators|unit/),
  badHeader('a column twice', 'C product [%]', 'C heat [ppm]', /same as column 12/i),
  badHeader('a unit missing', 'C [%]', 'C', /unit is missing.*C \[%\]/),
  badHeader('a unit of something else', 'C [%]', 'C [MPa]', /“MPa” is not one of C: %, ppm/),
  badHeader('a multiplier out of form', 'S x1000 [%]', 'S x12 [%]', /no multiplier/),
  badHeader('a multiplier in words', 'S x1000 [%]', 'S times 1000 [%]', /in this order/),
  badHeader('an analysis of no chemistry', 'ReH [MPa]', 'ReH product [MPa]', /which analysis/),
  badHeader('a temperature of no impact test', 'ReH [MPa]', 'ReH @20 [MPa]', /impact tests only/),
  badHeader('a temperature below absolute zero', 'KV2 @-20 [J]', 'KV2 @-300 [J]', /no test temperature/),
  badHeader('camber without its base length', 'camber over 2000 [mm]', 'camber [mm]', /camber over 2000/),
  broken('more than 200 columns', textOf(Array.from({ length: 201 }, (_, index) => `C${index}`)), 1, 201, /at most 200/),
];

const CELLS: readonly BrokenFile[] = [
  badCell('a decimal comma in quotes', 'C [%]', '"0,085"', /decimal comma: write 0\.085/),
  badCell('a comma of either kind', 'mass [kg]', '"9,850"', /write 9\.850 or 9850/),
  badCell('thousands separators', 'mass [kg]', '"1,009,850"', /thousands separators: write 1009850/),
  badCell('a blank for thousands', 'mass [kg]', '9 850', /thousands separators: write 9850/),
  badCell('an apostrophe for thousands', 'mass [kg]', "9'850", /thousands separators: write 9850/),
  badCell('a decimal comma and points for thousands', 'mass [kg]', '"9.850,5"', /write 9850\.5/),
  badCell('n/a', 'C product [%]', 'n/a', /word where a number belongs/),
  badCell('trace', 'C [%]', 'trace', /limit of detection/),
  badCell('a dash', 'C [%]', '-', /dash where a number belongs/),
  badCell('exponent notation', 'C [%]', '8.5E-2', /exponent notation/),
  badCell('a unit in the cell', 'C [%]', '0.085 %', /unit stands in the header/),
  badCell('two numbers in a cell', 'ReH [MPa]', '455/462', /two numbers/),
  badCell('a formula for a number', 'C [%]', '=0.08+0.005', /formula/),
  badCell('a formula for a coil', 'coil', '=HYPERLINK(A1)', /Begins with “=”.*formula/),
  badCell('a plus before a coil', 'coil', '+LM', /Begins with “\+”/),
  badCell('a minus before a heat', 'heat', '-1+1', /Begins with “-”/),
  badCell('an at sign before a coil', 'coil', '@SUM(A1)', /Begins with “@”/),
  badCell('a tab before a coil', 'coil', '\tLM', /Begins with a TAB/),
  badCell('a control character', 'coil', 'LM\u0007-02', /control character U\+0007/),
  badCell('a mark that turns the text round', 'coil', 'LM\u202E-02', /direction mark U\+202E/),
  badCell('a coil number too long', 'coil', 'L'.repeat(61), /61 characters; at most 60/),
  badCell('a blank after a coil', 'coil', 'LM-02 ', /blank before or after/i),
  badCell('a day in another order', 'issued', '22.01.2026', /No day such as 2026-01-22/),
  badCell('a day that never was', 'issued', '2026-02-30', /no such day/),
  badCell('a type of the 1991 edition', 'type', '3.1.B', /now 3\.1/),
  badCell('a type of no edition', 'type', '4.1', /Taken are 2\.1, 2\.2, 3\.1 or 3\.2/),
  badCell('no heat', 'heat', '', /Empty/),
  badCell('no certificate', 'certificate', '', /Empty/),
  badCell('an impossible value', 'C product [%]', '85', /impossible.*0 to 1\.5.*read as ppm or divided by 1000/),
  badCell('an impossible value, by its unit', 'thickness [mm]', '0.198', /impossible.*read as in/),
  badCell('a mass below nothing', 'mass [kg]', '-9850', /impossible/),
];

const BETWEEN_LINES: readonly BrokenFile[] = [
  broken('a coil twice', fileOf(lineOf(), lineOf()), 3, columnOf('coil'), /Coil LM-01 stands on line 2/),
  broken('a heat alone twice', fileOf(lineOf({ coil: '' }), lineOf({ coil: '' })), 3, columnOf('heat'), /Heat H40711, without a coil, stands on line 2/),
  broken('two analyses of one heat', fileOf(lineOf(), lineOf({ coil: 'LM-02' }), lineOf({ coil: 'LM-03', 'C [%]': '0.091' })), 4, columnOf('C [%]'), /line 2: C is 0\.085 there and 0\.091 here/),
  broken('a certificate that comes again', fileOf(lineOf(), lineOf({ certificate: 'TS-2', coil: 'LM-02' }), lineOf({ coil: 'LM-03' })), 4, 1, /TS-1 of Tarnwick Steelworks goes on here.*ended on line 2/),
  badCell('another issuer within a certificate', 'issuer', 'Calder Strip', /Differs within certificate TS-1: “Tarnwick Steelworks” on line 2/),
  badCell('another day within a certificate', 'issued', '2026-01-23', /Differs within/),
  badCell('another type within a certificate', 'type', '3.2', /Differs within/),
  badCell('another order within a certificate', 'order', '', /Differs within/),
  broken('1001 lines in a certificate', fileOf(...Array.from({ length: 1001 }, (_, index) => lineOf({ coil: `LM-${index}` }))), 1002, 1, /More than 1000 lines/),
];

export const LARGE_BYTES = 200 * 1024 * 1024;

/** Lines of the large file that make about 200 MB. */
export const LARGE_LINES = Math.ceil(LARGE_BYTES / textOf(largeLine(0)).length);

/** A large file of so many good lines, and below them one with a word for its carbon. */
export async function* withFaultAtItsEnd(goodLines: number): AsyncGenerator<Uint8Array> {
  yield* largeFile(goodLines);
  const last = largeLine(goodLines);
  const cells = last.map((cell, index) => (index === CARBON_INDEX ? 'trace' : cell));
  yield await Promise.resolve(Buffer.from(textOf(cells)));
}

const CARBON_INDEX = LARGE_HEADER.indexOf('C [%]');

async function* withoutLineEnd(): AsyncGenerator<Uint8Array> {
  const piece = Buffer.alloc(64 * 1024, '0.085,');
  for (let sent = 0; sent < LARGE_BYTES; sent += piece.length) yield await Promise.resolve(piece);
}

/** Files that take seconds to read, or would fill the memory of a reader that holds them. */
export const LARGE_BROKEN_FILES: readonly BrokenFile[] = [
  { name: '200 MB, the fault in the last line', fileName: CSV, bytes: () => withFaultAtItsEnd(LARGE_LINES), line: LARGE_LINES + 2, column: CARBON_INDEX + 1, says: /limit of detection/ },
  { name: '200 MB without a line end', fileName: CSV, bytes: withoutLineEnd, line: 1, column: null, says: /No line end in the first 65,536 bytes/ },
];

export const BROKEN_FILES: readonly BrokenFile[] = [...NOT_TEXT, ...LINES, ...HEADERS, ...CELLS, ...BETWEEN_LINES];

const odd = (name: string, content: string, expected: Partial<OddFile> = {}): OddFile =>
  ({ name, bytes: () => inPieces(content), certificates: 1, coils: 1, questions: 0, ...expected });

export const ODD_FILES: readonly OddFile[] = [
  odd('a byte order mark at the start', `\uFEFF${fileOf(lineOf())}`),
  odd('CR LF', fileOf(lineOf(), lineOf({ coil: 'LM-02' })).replaceAll('\n', '\r\n'), { coils: 2 }),
  odd('CR LF and LF mixed', fileOf(lineOf(), lineOf({ coil: '"LM-02"' })).replace('\n', '\r\n'), { coils: 2 }),
  odd('no line end after the last line', fileOf(lineOf(), lineOf({ coil: 'LM-02' })).trimEnd(), { coils: 2 }),
  odd('blank lines at the end', `${fileOf(lineOf())}\n\r\n${textOf(lineOf().map(() => ''))}\n`),
  odd('commas and quotes in quotes', fileOf(lineOf({ issuer: '"Tarnwick ""North"", Steelworks"' }), lineOf({ issuer: '"Tarnwick ""North"", Steelworks"', coil: 'LM-02' })), { coils: 2 }),
  odd('every cell in quotes', fileOf(lineOf().map((cell) => `"${cell}"`))),
  odd('every cell in quotes, with CR LF', fileOf(lineOf().map((cell) => `"${cell}"`)).replaceAll('\n', '\r\n')),
  odd('a camber below zero', fileOf(lineOf({ 'camber over 2000 [mm]': '-1.5' }))),
  odd('values known from one side', fileOf(lineOf({ 'S x1000 [%]': '<1', 'KV2 @-20 [J]': '>=100', 'C product [%]': '< 0.001' }))),
  odd('nothing reported', fileOf(lineOf({ 'S x1000 [%]': '', 'KV2 @-20 [J]': '' }))),
  odd('a heat alone, and its coils', fileOf(lineOf({ coil: '', 'thickness [mm]': '' }), lineOf(), lineOf({ coil: 'LM-02', 'C [%]': '0.0850' })), { coils: 2 }),
  odd('no order and no specification', textOf(...[GOOD_HEADER, lineOf()].map((cells) => [...cells.slice(0, 4), ...cells.slice(6)]))),
  odd('columns in another order', textOf([...GOOD_HEADER].reverse(), lineOf().reverse())),
  odd('letters of many scripts', fileOf(lineOf({ issuer: 'Ståhl Řezník 鋼鉄 😀' }))),
  odd('one number from two issuers', fileOf(lineOf(), lineOf({ certificate: 'TS-2' }), lineOf({ issuer: 'Calder Strip' })), { certificates: 3, coils: 3 }),
  odd('an unusual value on two lines of a heat', fileOf(lineOf({ 'C [%]': '0.26' }), lineOf({ 'C [%]': '0.26', coil: 'LM-02' })), { coils: 2, questions: 1 }),
];
