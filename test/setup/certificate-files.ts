/** Certificate files in the form of the template, small ones written cell by cell and large ones made as they are read. */

const FIXED = ['certificate', 'issuer', 'type', 'issued', 'order', 'specification', 'coil', 'heat'];

/** A good line of a small file by column; `lineOf` changes single cells. */
const GOOD: Readonly<Record<string, string>> = {
  certificate: 'TS-1', issuer: 'Tarnwick Steelworks', type: '3.1', issued: '2026-01-22', order: 'PO-1187',
  specification: 'HS-STRIP-80 rev 2', coil: 'LM-01', heat: 'H40711',
  'thickness [mm]': '5.02', 'mass [kg]': '9850', 'camber over 2000 [mm]': '1.5', 'C [%]': '0.085', 'C product [%]': '0.088',
  'S x1000 [%]': '4', 'ReH [MPa]': '462', 'KV2 @-20 [J]': '96',
};

export const GOOD_HEADER: readonly string[] = Object.keys(GOOD);

/** The column, counted from 1, of a header of the small files. */
export const columnOf = (header: string): number => GOOD_HEADER.indexOf(header) + 1;

/** Cells of a good line with some of them changed. */
export const lineOf = (changes: Readonly<Record<string, string>> = {}): string[] => Object.values({ ...GOOD, ...changes });

/** Text of a file: cells joined by commas as they are, and lines ended with LF. */
export const textOf = (...lines: readonly (readonly string[])[]): string => lines.map((cells) => `${cells.join(',')}\n`).join('');

/** A small file: the usual header and these lines. */
export const fileOf = (...lines: readonly (readonly string[])[]): string => textOf(GOOD_HEADER, ...lines);

/** The bytes of a small file, in pieces as a network might cut them: within lines and within letters. */
export async function* inPieces(content: string | Uint8Array, pieceBytes = 61): AsyncGenerator<Uint8Array> {
  const bytes = Buffer.from(content);
  for (let at = 0; at < bytes.length; at += pieceBytes) yield await Promise.resolve(bytes.subarray(at, at + pieceBytes));
}

/** Twenty-five value columns, and for each the least value, the step and the decimals of what stands there. */
const LARGE: readonly (readonly [header: string, least: number, step: number, decimals: number, of?: 'heat'])[] = [
  ['thickness [mm]', 4.9, 0.01, 2], ['width [mm]', 382.5, 0.1, 1], ['mass [kg]', 9500, 7, 0], ['camber over 2000 [mm]', -2, 0.05, 1],
  ['C [%]', 0.07, 0.001, 3, 'heat'], ['Si [%]', 0.15, 0.01, 2, 'heat'], ['Mn [%]', 1.1, 0.01, 2, 'heat'], ['P x1000 [%]', 8, 0.2, 1, 'heat'], ['S x1000 [%]', 1, 0.2, 1, 'heat'],
  ['Al [%]', 0.03, 0.001, 3, 'heat'], ['Cr [%]', 0.02, 0.001, 3, 'heat'], ['Mo [%]', 0.001, 0.001, 3, 'heat'], ['Ni [%]', 0.01, 0.001, 3, 'heat'], ['Cu [%]', 0.01, 0.001, 3, 'heat'],
  ['Nb [%]', 0.02, 0.001, 3, 'heat'], ['V [%]', 0.001, 0.001, 3, 'heat'], ['Ti [%]', 0.01, 0.001, 3, 'heat'], ['B [ppm]', 1, 1, 0, 'heat'], ['N [ppm]', 30, 1, 0, 'heat'],
  ['CE(IIW) [%]', 0.3, 0.001, 3, 'heat'], ['ReH [MPa]', 430, 1, 0], ['Rm [MPa]', 520, 1, 0], ['A80mm [%]', 20, 0.2, 1], ['KV2 @-20 [J]', 80, 1, 0],
  ['HV10 [HV10]', 170, 0.5, 1],
];

export const LARGE_HEADER: readonly string[] = [...FIXED, ...LARGE.map(([header]) => header)];

const COILS_OF_HEAT = 5;
const COILS_OF_CERTIFICATE = 25;
/** Values repeat as those of a mill do, chemistry heat by heat, and each column with a rhythm of its own. */
const RHYTHM = 97;

const TEXTS = LARGE.map(([, least, step, decimals]) => Array.from({ length: RHYTHM }, (_, turn) => (least + step * turn).toFixed(decimals)));

/** Line `index` of a large file, counted from 0 below the header. */
export function largeLine(index: number): string[] {
  const heat = Math.floor(index / COILS_OF_HEAT);
  const certificate = Math.floor(index / COILS_OF_CERTIFICATE);
  const values = LARGE.map(([, , , , of], column) => TEXTS[column]?.[((of === 'heat' ? heat : index) * (column + 3)) % RHYTHM] ?? '');
  return [
    `TS-${String(certificate).padStart(7, '0')}`, 'Tarnwick Steelworks', '3.1', '2026-01-22', `PO-${certificate % 400}`, 'HS-STRIP-80 rev 2',
    `LM-${String(index).padStart(8, '0')}`, `H${String(heat).padStart(7, '0')}`, ...values,
  ];
}

const LINES_OF_PIECE = 256;

/** A large good file of `lineCount` lines below its header, made piece by piece. */
export function* largeFile(lineCount: number): Generator<Buffer> {
  yield Buffer.from(textOf(LARGE_HEADER));
  for (let first = 0; first < lineCount; first += LINES_OF_PIECE) {
    const count = Math.min(LINES_OF_PIECE, lineCount - first);
    yield Buffer.from(textOf(...Array.from({ length: count }, (_, index) => largeLine(first + index))));
  }
}
