import type { Ratio } from '#libs/exact';
import { compare, decimal } from '#libs/exact';

/** A table of thickness tolerances: of a standard, of which only cells with a source are given, or a project's own. */
export interface ToleranceTable {
  readonly name: string;
  readonly edition: string;
  readonly source: string;
  readonly rows: readonly ToleranceRow[];
}

/** Nominal thicknesses over `overMm` up to and including `toMm`; decimal text. */
export interface ToleranceRow {
  readonly overMm: string;
  readonly toMm: string;
  readonly widths: readonly ToleranceCell[];
}

/** Widths over `overMm` up to and including `toMm` (no upper end when null), and the tolerance ± in them; decimal text. */
export interface ToleranceCell {
  readonly overMm: string;
  readonly toMm: string | null;
  readonly plusMinusMm: string;
}

interface Span {
  readonly over: Ratio;
  readonly to: Ratio | null;
}

const ZERO = decimal('0');

/** Whether the value lies over the lower bound and not over the upper one. Throws SyntaxError on what is no plain decimal. */
export function isWithin(value: Ratio, bounds: { readonly overMm: string; readonly toMm: string | null }): boolean {
  const { over, to } = spanOf(bounds);
  return compare(value, over) > 0 && (to === null || compare(value, to) <= 0);
}

/** What a span of a table is called in messages: `over 2.50 to 3.00 mm`. */
export function spanText({ overMm, toMm }: { readonly overMm: string; readonly toMm: string | null }): string {
  return toMm === null ? `over ${overMm} mm` : `over ${overMm} to ${toMm} mm`;
}

/**
 * What is wrong with a table, in words; empty when nothing is. Spans must be plain decimals, not empty and not below 0, must
 * not overlap, and every tolerance must be over 0 (no real strip keeps ± 0). Gaps are allowed: they are found as missing.
 */
export function checkToleranceTable(table: ToleranceTable): string[] {
  if (table.rows.length === 0) return ['the table has no rows'];
  const rows = checkSpans('thickness', table.rows);
  return [...rows, ...table.rows.flatMap((row) => checkRow(row))];
}

function checkRow(row: ToleranceRow): string[] {
  const where = `thickness ${spanText(row)}`;
  if (row.widths.length === 0) return [`${where}: no widths`];
  const faults = checkSpans('width', row.widths);
  for (const cell of row.widths) {
    const tolerance = decimalOrNull(cell.plusMinusMm);
    if (tolerance === null) faults.push(`width ${spanText(cell)}: not a plain decimal: ${JSON.stringify(cell.plusMinusMm)}`);
    else if (compare(tolerance, ZERO) <= 0) faults.push(`width ${spanText(cell)}: a tolerance must be over 0, not ${cell.plusMinusMm}`);
  }
  return faults.map((fault) => `${where}: ${fault}`);
}

function checkSpans(what: string, spans: readonly (ToleranceRow | ToleranceCell)[]): string[] {
  const faults: string[] = [];
  const sound: { text: string; span: Span }[] = [];
  for (const one of spans) {
    const text = `${what} ${spanText(one)}`;
    const span = spanOrFault(one);
    if (typeof span === 'string') faults.push(`${text}: ${span}`);
    else sound.push({ text, span });
  }
  sound.forEach((one, index) => {
    const clash = sound.slice(0, index).find((earlier) => overlap(earlier.span, one.span));
    if (clash !== undefined) faults.push(`${one.text} overlaps ${clash.text}`);
  });
  return faults;
}

function spanOrFault({ overMm, toMm }: ToleranceRow | ToleranceCell): Span | string {
  const over = decimalOrNull(overMm);
  if (over === null) return `not a plain decimal: ${JSON.stringify(overMm)}`;
  if (compare(over, ZERO) < 0) return 'negative';
  if (toMm === null) return { over, to: null };
  const to = decimalOrNull(toMm);
  if (to === null) return `not a plain decimal: ${JSON.stringify(toMm)}`;
  return compare(to, over) > 0 ? { over, to } : 'empty, the upper bound must be over the lower one';
}

function overlap(a: Span, b: Span): boolean {
  return (b.to === null || compare(a.over, b.to) < 0) && (a.to === null || compare(b.over, a.to) < 0);
}

function spanOf({ overMm, toMm }: { readonly overMm: string; readonly toMm: string | null }): Span {
  return { over: decimal(overMm), to: toMm === null ? null : decimal(toMm) };
}

function decimalOrNull(text: string): Ratio | null {
  try {
    return decimal(text);
  } catch (error) {
    if (error instanceof SyntaxError) return null;
    throw error;
  }
}
