/** A cell of a table; null is empty. */
export type CsvCell = string | number | null;

/** Lines that are given out together. */
const CHUNK_LINES = 200;

/** A line of CSV (RFC 4180): commas, quotes where they are needed, CR LF. */
export const csvLine = (cells: readonly CsvCell[]): string => `${cells.map((cell) => quoted(cell === null ? '' : String(cell))).join(',')}\r\n`;

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Rows as CSV, some lines at a time, so that a long table is never in memory as a whole. */
export function* csvLines(rows: Iterable<readonly CsvCell[]>): Generator<string> {
  let lines = '';
  let count = 0;
  for (const row of rows) {
    lines += csvLine(row);
    count += 1;
    if (count % CHUNK_LINES !== 0) continue;
    yield lines;
    lines = '';
  }
  if (lines !== '') yield lines;
}
