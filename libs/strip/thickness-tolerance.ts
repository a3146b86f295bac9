import type { Ratio } from '#libs/exact';
import { compare, decimal } from '#libs/exact';
import { EN_10051_TABLES } from './en-10051-tables.js';
import { EN_10131_TABLES } from './en-10131-tables.js';
import { isWithin, spanText } from './tolerance-table.js';
import type { ToleranceTable } from './tolerance-table.js';

export { checkToleranceTable } from './tolerance-table.js';
export type { ToleranceCell, ToleranceRow, ToleranceTable } from './tolerance-table.js';

/** The standard tables that are known here, with the cells that carry a source and no others. */
export const THICKNESS_TOLERANCE_TABLES: readonly ToleranceTable[] = [...EN_10051_TABLES, ...EN_10131_TABLES];

/** The standard table of this name, letter for letter, or null. */
export function findToleranceTable(name: string): ToleranceTable | null {
  return THICKNESS_TOLERANCE_TABLES.find((table) => table.name === name) ?? null;
}

/** How far the thickness may lie above and below its nominal value, both as sizes, and the cell that says so. */
export interface ThicknessTolerance {
  readonly plusMm: string;
  readonly minusMm: string;
  /** Its row and column in words: `thickness over 5.00 to 6.00 mm, width over 0 to 1200 mm`. */
  readonly cell: string;
  readonly source: string;
}

/** The table has no cell with a source there: nothing is guessed and nothing interpolated. */
export interface MissingTolerance {
  readonly missing: string;
}

/**
 * The tolerance of a nominal thickness at a nominal width, in mm, both decimal text: the one cell whose spans hold them,
 * lower bounds exclusive, upper ones inclusive. In a table with overlaps, which `checkToleranceTable` refuses, the first.
 * Throws SyntaxError unless both are plain decimals, RangeError unless both are over 0.
 */
export function thicknessTolerance(table: ToleranceTable, nominalMm: string, widthMm: string): ThicknessTolerance | MissingTolerance {
  const nominal = positive('nominal thickness', nominalMm);
  const width = positive('width', widthMm);
  const row = table.rows.find((one) => isWithin(nominal, one));
  if (row === undefined) return { missing: `${table.name}: no row with a source for a thickness of ${nominalMm} mm` };
  const cell = row.widths.find((one) => isWithin(width, one));
  if (cell === undefined) {
    return { missing: `${table.name}, thickness ${spanText(row)}: no cell with a source for a width of ${widthMm} mm` };
  }
  const where = `thickness ${spanText(row)}, width ${spanText(cell)}`;
  return { plusMm: cell.plusMinusMm, minusMm: cell.plusMinusMm, cell: where, source: table.source };
}

function positive(what: string, text: string): Ratio {
  const value = decimal(text);
  if (compare(value, decimal('0')) <= 0) throw new RangeError(`${what} must be over 0 mm: ${text}`);
  return value;
}
