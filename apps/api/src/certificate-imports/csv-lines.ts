import { type CsvFault, fileFault, shownText } from './csv-fault.js';
import { foreignFormat } from './file-signature.js';
import { checksFor, type LineFault, STRAY_RETURN } from './line-bytes.js';

/** Some whole lines of a file, fit for a CSV parser: one record a line, quotes closed, UTF-8. */
export interface LineBlock {
  readonly firstLine: number;
  readonly bytes: Buffer;
  readonly lineEnds: readonly string[];
  readonly hasQuotes: boolean;
  /** Lines that cannot be read as cells, by number; blanks stand in their place in `bytes`. */
  readonly faults: ReadonlyMap<number, CsvFault>;
  /** Why nothing from here on can be read; `bytes` is then empty. */
  readonly unreadable: CsvFault | null;
}

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;
const BLANK = 0x20;
const QUOTE = 0x22;
const BYTE_ORDER_MARK = Buffer.from('\uFEFF');
/** What one piece of the source may add at once, so that a file that comes in one piece is not copied whole. */
const PIECE_BYTES = 64 * 1024;

/**
 * The lines of a file, some 64 KiB at a time, however it is cut into chunks. Skips a leading byte order mark, names a file
 * that is no UTF-8 text, and stops at a line longer than `longestLineBytes`.
 */
export async function* readLineBlocks(source: AsyncIterable<Uint8Array>, longestLineBytes: number): AsyncGenerator<LineBlock> {
  let line = 1;
  for await (const block of wholeLines(source, longestLineBytes + 2)) {
    const lines = line === 1 ? afterByteOrderMark(block) : block;
    const foreign = line === 1 ? foreignFormat(block) ?? foreignFormat(lines) : null;
    const checked = foreign === null ? checkLines(lines, line, longestLineBytes) : unreadable(line, fileFault(foreign));
    yield checked.block;
    if (checked.block.unreadable !== null) return;
    line += checked.lineCount;
  }
  if (line === 1) yield unreadable(line, fileFault('The file is empty.')).block;
}

/** Blocks that end with a line end, save the last, and one of at least `least` bytes without any. */
async function* wholeLines(source: AsyncIterable<Uint8Array>, least: number): AsyncGenerator<Buffer> {
  let held: Uint8Array[] = [];
  let heldBytes = 0;
  for await (const chunk of source) {
    for (let at = 0; at < chunk.length; at += PIECE_BYTES) {
      const piece = chunk.subarray(at, at + PIECE_BYTES);
      held.push(piece);
      heldBytes += piece.length;
      if (heldBytes < least) continue;
      const joined = Buffer.concat(held);
      const end = joined.lastIndexOf(LINE_FEED) + 1;
      yield end === 0 ? joined : joined.subarray(0, end);
      held = end === 0 ? [] : [joined.subarray(end)];
      heldBytes = end === 0 ? 0 : joined.length - end;
    }
  }
  if (heldBytes > 0) yield Buffer.concat(held);
}

const afterByteOrderMark = (opening: Buffer): Buffer =>
  opening.subarray(0, BYTE_ORDER_MARK.length).equals(BYTE_ORDER_MARK) ? opening.subarray(BYTE_ORDER_MARK.length) : opening;

interface CheckedLines {
  readonly block: LineBlock;
  readonly lineCount: number;
}

const unreadable = (firstLine: number, fault: CsvFault): CheckedLines => ({
  block: { firstLine, bytes: Buffer.alloc(0), lineEnds: ['\n'], hasQuotes: false, faults: new Map(), unreadable: fault }, lineCount: 0,
});

/** The first line of such a file holds all of it. */
const RETURNS_ALONE = 'The lines end with CR alone. Save the file with lines that end with LF or CR LF.';

/** The lines of `bytes` with those at fault blanked out, in place. */
function checkLines(bytes: Buffer, firstLine: number, longestLineBytes: number): CheckedLines {
  if (bytes.length === 0) return unreadable(firstLine, fileFault('The file is empty.'));
  const checks = checksFor(bytes);
  const lineEnds = bytes.includes(CARRIAGE_RETURN) ? ['\r\n', '\n'] : ['\n'];
  const faults = new Map<number, CsvFault>();
  let line = firstLine;
  for (let start = 0; start < bytes.length; line += 1) {
    const feed = bytes.indexOf(LINE_FEED, start);
    const next = feed === -1 ? bytes.length : feed + 1;
    const end = feed > start && bytes[feed - 1] === CARRIAGE_RETURN ? feed - 1 : feed === -1 ? bytes.length : feed;
    const text = bytes.subarray(start, end);
    const fault = checks.length === 0 ? null : firstOf(checks, text);
    if (line === 1 && fault?.fault === STRAY_RETURN) return unreadable(1, fileFault(RETURNS_ALONE));
    if (text.length > longestLineBytes) return unreadable(line, tooLong(line, text, longestLineBytes, feed === -1));
    if (fault !== null) {
      faults.set(line, { line, column: fault.column, header: null, value: shownText(fault.value.toString('utf8')), fault: fault.fault });
      text.fill(BLANK);
    }
    start = next;
  }
  return { block: { firstLine, bytes, lineEnds, hasQuotes: bytes.includes(QUOTE), faults, unreadable: null }, lineCount: line - firstLine };
}

function firstOf(checks: readonly ((line: Buffer) => LineFault | null)[], line: Buffer): LineFault | null {
  for (const check of checks) {
    const fault = check(line);
    if (fault !== null) return fault;
  }
  return null;
}

function tooLong(line: number, text: Buffer, longestLineBytes: number, endless: boolean): CsvFault {
  const limit = `${longestLineBytes.toLocaleString('en')} bytes`;
  const fault = line === 1 && endless
    ? `No line end in the first ${limit}: this is no table of lines. A line has at most that length.`
    : `The line is longer than ${limit}, the most that is taken. Is a line end missing?`;
  return { line, column: null, header: null, value: shownText(text.subarray(0, 400).toString('utf8')), fault };
}
