import { isUtf8 } from 'node:buffer';

/** What is wrong with the bytes of one line, before it can be read as cells. */
export interface LineFault {
  readonly column: number;
  readonly value: Buffer;
  readonly fault: string;
}

const QUOTE = 0x22;
const COMMA = 0x2c;
const CARRIAGE_RETURN = 0x0d;
const BYTE_ORDER_MARK = Buffer.from('\uFEFF');

/** Told of a carriage return that is no part of a line end. */
export const STRAY_RETURN = 'A carriage return inside the line. Lines end with LF or CR LF.';

interface Check {
  readonly occursIn: (bytes: Buffer) => boolean;
  readonly fault: string;
}

const CHECKS: readonly Check[] = [
  { occursIn: (bytes) => bytes.includes(0), fault: 'A zero byte. Text in UTF-8 is taken.' },
  { occursIn: (bytes) => !isUtf8(bytes), fault: 'Bytes that are no UTF-8. Save the file as CSV in UTF-8.' },
  { occursIn: (bytes) => bytes.includes(BYTE_ORDER_MARK), fault: 'A byte order mark inside the file; one is taken, at its very start. Were files joined?' },
  { occursIn: (bytes) => bytes.includes(CARRIAGE_RETURN), fault: STRAY_RETURN },
];

/**
 * The checks that some line of these whole lines may fail, each a function of one line without its line end. Nearly
 * always there is none, and no line need be looked at.
 */
export function checksFor(lines: Buffer): ((line: Buffer) => LineFault | null)[] {
  const checks = CHECKS.filter(({ occursIn }) => occursIn(lines)).map((check) => (line: Buffer) => cellWith(line, check));
  return lines.includes(QUOTE) ? [...checks, quoteFault] : checks;
}

function cellWith(line: Buffer, { occursIn, fault }: Check): LineFault | null {
  if (!occursIn(line)) return null;
  let column = 0;
  for (const value of cellsOf(line)) {
    column += 1;
    if (occursIn(value)) return { column, value, fault };
  }
  return { column: 1, value: line, fault };
}

/** The cells of a line as they stand, quotes and all. */
function* cellsOf(line: Buffer): Generator<Buffer> {
  let start = 0;
  let quoted = false;
  for (const [index, byte] of line.entries()) {
    if (byte === QUOTE) quoted = !quoted;
    if (byte !== COMMA || quoted) continue;
    yield line.subarray(start, index);
    start = index + 1;
  }
  yield line.subarray(start);
}

const UNCLOSED = 'A quote opens here and does not close on this line. No cell holds a line break, and a quote in quotes is doubled.';
const AFTER_CLOSING = 'Text after the closing quote. A comma or the end of the line must follow, and a quote in quotes is doubled.';
const UNQUOTED = 'A quote inside a cell without quotes. Put the whole cell in quotes and double those in it.';

/** The first fault of the quotes of a line by RFC 4180, except that no cell may hold a line break. */
function quoteFault(line: Buffer): LineFault | null {
  let after = 0;
  for (;;) {
    const quote = line.indexOf(QUOTE, after);
    if (quote === -1) return null;
    if (quote > 0 && line[quote - 1] !== COMMA) return quoteFaultAt(line, line.lastIndexOf(COMMA, quote) + 1, UNQUOTED);
    after = afterQuoted(line, quote);
    if (after === -1) return quoteFaultAt(line, quote, UNCLOSED);
    if (after < line.length && line[after] !== COMMA) return quoteFaultAt(line, quote, AFTER_CLOSING);
  }
}

/** A fault of the cell that begins at `start`; the quotes before it are in order. */
function quoteFaultAt(line: Buffer, start: number, fault: string): LineFault {
  let column = 1;
  let before = 0;
  for (const cell of cellsOf(line)) {
    if (before >= start) break;
    before += cell.length + 1;
    column += 1;
  }
  const end = fault === UNCLOSED ? line.length : endOfCell(line, fault === AFTER_CLOSING ? afterQuoted(line, start) : start);
  return { column, value: line.subarray(start, end), fault };
}

function endOfCell(line: Buffer, from: number): number {
  const comma = line.indexOf(COMMA, from);
  return comma === -1 ? line.length : comma;
}

/** Where the text after the closing quote begins, or -1 when it does not close. */
function afterQuoted(line: Buffer, opening: number): number {
  let at = opening + 1;
  for (;;) {
    const quote = line.indexOf(QUOTE, at);
    if (quote === -1) return -1;
    if (line[quote + 1] !== QUOTE) return quote + 1;
    at = quote + 2;
  }
}
