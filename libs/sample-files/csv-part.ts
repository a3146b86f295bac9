import { isUtf8 } from 'node:buffer';
import { CsvError, parse } from 'csv-parse/sync';
import { demandColumns } from './columns.js';
import { PartError } from './part-error.js';
import type { PartPlan, RawPart } from './part.js';
import { TextRows } from './text-rows.js';
import { LINE_BYTES, LineBlocks } from './text-lines.js';

const [QUOTE, LINE_END] = [34, 10];

/**
 * A CSV text (RFC 4180, in UTF-8): a line of column names, then one sample a line, fields separated by commas, numbers with a
 * point. Fields may be quoted, but none goes over the end of a line. Lines end with LF or CR LF; empty ones are passed over.
 * Cells are as `TextRows` says.
 */
export function readCsvPart(bytes: Uint8Array, plan: PartPlan): RawPart {
  if (!isUtf8(bytes)) throw new PartError('malformed', 'the CSV text is not UTF-8');
  const blocks = new LineBlocks(bytes);
  const places = placesOf(namesOf(blocks), plan);
  let record = 0;
  const rows = new TextRows(plan, () => blocks.lineOf(record));
  for (let block = blocks.next(); block !== null; block = blocks.next()) {
    const records = recordsOf(block, blocks);
    for (record = 0; record < records.length; record += 1) setRow(rows, records[record] as string[], places, () => blocks.lineOf(record));
  }
  return rows.end();
}

/** The first line that is not empty, alone: what follows is judged by it. */
function namesOf(blocks: LineBlocks): readonly string[] {
  const line = blocks.nextLine();
  const [names] = line === null ? [] : recordsOf(line, blocks);
  if (names === undefined) throw new PartError('malformed', 'the CSV text has no line of column names');
  return names;
}

/** Index of the column in the shape of each cell; −1 is the position. */
function placesOf(names: readonly string[], plan: PartPlan): number[] {
  demandColumns(names, plan);
  return names.map((name) => plan.columns.findIndex((column) => column.name === name));
}

function setRow(rows: TextRows, cells: readonly string[], places: readonly number[], line: () => number): void {
  if (cells.length !== places.length) {
    throw new PartError('malformed', `line ${line()} has ${cells.length} fields, the line of column names ${places.length}`, { line: line(), value: String(cells.length), limit: String(places.length) });
  }
  rows.begin();
  for (let index = 0; index < places.length; index += 1) {
    const place = places[index] as number;
    if (place === -1) rows.setPosition(cells[index] as string);
    else rows.setValue(place, cells[index] as string);
  }
}

function recordsOf(block: Uint8Array, blocks: LineBlocks): string[][] {
  const hasQuotes = block.includes(QUOTE);
  if (hasQuotes) demandClosedQuotes(block, blocks);
  try {
    return parse(Buffer.from(block.buffer, block.byteOffset, block.byteLength), { record_delimiter: ['\r\n', '\n'], quote: hasQuotes ? '"' : null, skip_empty_lines: true });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = blocks.firstLine + Number(error['lines'] ?? 1) - 1;
    throw new PartError('malformed', `line ${line} is not CSV: ${FAULTS[error.code] ?? error.code}`, { line });
  }
}

/** The parser's own words count lines from the start of a block. */
const FAULTS: Readonly<Record<string, string>> = {
  CSV_RECORD_INCONSISTENT_FIELDS_LENGTH: 'it has another number of fields than the lines above',
  CSV_INVALID_CLOSING_QUOTE: 'something follows a closing quote',
  INVALID_OPENING_QUOTE: 'a quote stands within a field that is not quoted',
};

/** A quote that stands open at the end of a line would make one field of all that follows. */
function demandClosedQuotes(block: Uint8Array, blocks: LineBlocks): void {
  let [line, open] = [blocks.firstLine, false];
  for (const byte of block) {
    if (byte === QUOTE) open = !open;
    else if (byte === LINE_END) {
      if (open) break;
      line += 1;
    }
  }
  if (open) throw new PartError('malformed', `line ${line} ends within a quoted field`, { line, limit: String(LINE_BYTES) });
}
