/**
 * Lines of the sections ~V, ~W, ~C and ~P. Their delimiters are the first dot, the first space after it and the last colon
 * (CWLS LAS 2.0, update January 2014, 5.2).
 */
import { isLasText } from './ascii-text.js';
import { LasError } from './las-error.js';
import type { LasItem } from './las-log.js';

/** A reader that was tried parts the value from the unit by four spaces and no fewer, and loses a word before two. */
const GAP = '    ';

/** The lines of a section. Throws LasError that names the item. */
export function itemLines(items: readonly LasItem[]): string[] {
  for (const item of items) demandItem(item);
  demandUnique(items);
  const longest = (of: (item: LasItem) => string): number => Math.max(0, ...items.map((item) => of(item).length));
  const [nameWidth, unitWidth] = [longest(({ mnemonic }) => mnemonic), longest(({ unit }) => unit)];
  return items.map(({ mnemonic, unit, value, description }) =>
    `${mnemonic.padEnd(nameWidth)}.${unit.padEnd(unitWidth)}${GAP}${value.trim()} : ${description.trim()}`.trimEnd());
}

/** Throws LasError `mnemonic` or `unit` that names it. */
export function demandName(mnemonic: string, unit: string): void {
  const name = mnemonic === '' ? 'a mnemonic' : mnemonic;
  if (!/^[!-9;-~]+$/.test(mnemonic) || mnemonic.includes('.')) throw new LasError('mnemonic', name, 'a mnemonic has ASCII signs, at least one, and no space, dot or colon');
  if (/^[~#]/.test(mnemonic)) throw new LasError('mnemonic', name, 'a line that begins with ~ or # is no item');
  if (!/^[!-9;-~]*$/.test(unit)) throw new LasError('unit', name, `a unit has ASCII signs and no space or colon: ${JSON.stringify(unit)}`);
}

function demandItem({ mnemonic, unit, value, description }: LasItem): void {
  demandName(mnemonic, unit);
  if (!isLasText(value)) throw new LasError('text', mnemonic, `a value has ASCII signs from space to ~: ${JSON.stringify(value)}`);
  if (!isLasText(description)) throw new LasError('text', mnemonic, `a description has ASCII signs from space to ~: ${JSON.stringify(description)}`);
  if (description.includes(':')) throw new LasError('text', mnemonic, `a colon in a description would end the value: ${JSON.stringify(description)}`);
}

function demandUnique(items: readonly LasItem[]): void {
  const seen = new Set<string>();
  for (const { mnemonic } of items) {
    const key = mnemonic.toUpperCase();
    if (seen.has(key)) throw new LasError('mnemonic', mnemonic, 'comes twice in its section');
    seen.add(key);
  }
}
