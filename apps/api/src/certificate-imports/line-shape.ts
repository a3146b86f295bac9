/** What is wrong with a line as a whole: at which cell, and what there is instead. */
export interface ShapeFault {
  /** Counted from 1; null where it is of the whole line. */
  readonly column: number | null;
  readonly value: string;
  readonly fault: string;
}

const SEPARATORS: readonly (readonly [string, string])[] = [[';', 'semicolons'], ['\t', 'tabs'], ['|', 'vertical bars']];

export const isBlank = (cells: readonly string[]): boolean => cells[0]?.trim() === '' && cells.every((cell) => cell.trim() === '');

/** A header line that other separators than commas divide, is blank or a comment; null when its cells can be read. */
export function headerShapeFault(cells: readonly string[]): ShapeFault | null {
  const value = cells.join(',');
  if (isBlank(cells)) return { column: null, value, fault: 'The first line is blank. It is the header, which names the columns.' };
  if (isComment(cells)) return { column: 1, value, fault: 'A comment. The first line is the header, and comments are not taken.' };
  const other = cells.length > 1 ? null : otherSeparator(value, 2);
  return other === null ? null : { column: 1, value, fault: `The cells are separated by ${other}. Commas are taken, with a decimal point in numbers.` };
}

/** What keeps the cells of a line from being told apart; null when there is one for each column. */
export function lineShapeFault(cells: readonly string[], columnCount: number): ShapeFault | null {
  if (isComment(cells)) return { column: 1, value: cells.join(','), fault: 'A comment. Comments are not taken; each line speaks of a coil or a heat.' };
  if (cells.length === columnCount) return null;
  const value = cells.join(',');
  const other = cells.length > columnCount ? null : otherSeparator(value, columnCount - cells.length);
  if (other !== null) return { column: 1, value, fault: `Mixed separators: ${other} here, and commas in the header. Cells are separated by commas alone.` };
  const counts = `${cells.length} ${cells.length === 1 ? 'cell' : 'cells'} where the header has ${columnCount} columns.`;
  if (cells.length < columnCount) return { column: cells.length + 1, value, fault: `Too few cells: ${counts} An empty cell has its comma too.` };
  return { column: columnCount + 1, value: cells[columnCount] ?? '', fault: `Too many cells: ${counts} A decimal comma, or a comma in a text without quotes, makes two cells of one.` };
}

const isComment = (cells: readonly string[]): boolean => cells[0]?.startsWith('#') === true;

/** What divides a line into more than `least` parts in place of commas, in words. */
function otherSeparator(line: string, least: number): string | null {
  const counted = SEPARATORS.map(([mark, name]) => ({ name, count: line.split(mark).length - 1 }));
  const [most] = counted.sort((a, b) => b.count - a.count);
  return most !== undefined && most.count >= Math.max(least, 1) ? most.name : null;
}
