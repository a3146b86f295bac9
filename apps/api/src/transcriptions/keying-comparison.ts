import { compare, decimal } from '#libs/exact';
import { normalNumber, requirementName, type PaperLine, type PrintedValue } from '#libs/strip';
import type { KeyingDifference } from './certificate-transcription.dto.js';
import { eachByName } from './each-by-name.js';

/** What of a keying is compared. */
export interface Keying {
  readonly orderNumber: string | null;
  readonly specification: string | null;
  readonly lines: readonly PaperLine[];
}

/** Where two keyings of one paper differ, in the order of the first; none is chosen. Empty when they say the same. */
export function keyingDifferences(first: Keying, second: Keying): KeyingDifference[] {
  const heads = [
    ...difference('order number', first.orderNumber, second.orderNumber),
    ...difference('specification', first.specification, second.specification),
  ];
  const [one, other] = [linesByKey(first.lines), linesByKey(second.lines)];
  const keys = [...new Set([...one.keys(), ...other.keys()])];
  return [...heads, ...keys.flatMap((key) => lineDifferences(key, one.get(key), other.get(key)))];
}

/** Identity of a line: its coil, or its heat when it names none; a number written differently is another line's, so it shows. */
function linesByKey(lines: readonly PaperLine[]): Map<string, PaperLine> {
  return eachByName(lines, ({ coilNumber, heatNumber }) => (coilNumber === null ? `heat ${heatNumber ?? ''}` : `coil ${coilNumber}`));
}

function lineDifferences(key: string, first: PaperLine | undefined, second: PaperLine | undefined): KeyingDifference[] {
  if (first === undefined || second === undefined) {
    return [{ where: key, first: first === undefined ? null : 'keyed', second: second === undefined ? null : 'keyed' }];
  }
  const [one, other] = [valuesByName(first.values), valuesByName(second.values)];
  const names = [...new Set([...one.keys(), ...other.keys()])];
  return [
    ...difference(`${key}: heat number`, first.heatNumber, second.heatNumber),
    ...names.flatMap((name) => valueDifference(`${key}: ${name}`, one.get(name), other.get(name))),
  ];
}

function valuesByName(values: readonly PrintedValue[]): Map<string, PrintedValue> {
  return eachByName(values, (value) => {
    const place = [value.location, value.direction].filter((part) => part !== null).join(', ');
    return place === '' ? requirementName(value) : `${requirementName(value)} (${place})`;
  });
}

function valueDifference(where: string, first: PrintedValue | undefined, second: PrintedValue | undefined): KeyingDifference[] {
  if (first !== undefined && second !== undefined && saysTheSame(first, second)) return [];
  return [{ where, first: first === undefined ? null : valueText(first), second: second === undefined ? null : valueText(second) }];
}

/**
 * Whether two keyings of a value say the same digits, unit, multiplier and uncertainty: 0.10 and 0.1 differ, since the digits
 * printed are part of the value.
 */
export function saysTheSame(first: PrintedValue, second: PrintedValue): boolean {
  return first.printed === second.printed && first.unit === second.unit && first.expandedU === second.expandedU
    && compare(decimal(first.multiplier), decimal(second.multiplier)) === 0;
}

/** What one keying says of a value. */
export function valueText(value: PrintedValue): string {
  const times = value.multiplier === '1' ? '' : ` (printed ×${value.multiplier})`;
  return `${value.printed} ${value.unit}${times}${value.expandedU === null ? '' : `, U ${value.expandedU}`}`;
}

const difference = (where: string, first: string | null, second: string | null): KeyingDifference[] =>
  first === second ? [] : [{ where, first, second }];

/** The normal forms of the numbers in some lines, each once. */
export function numbersIn(lines: readonly PaperLine[], which: 'coilNumber' | 'heatNumber'): string[] {
  return [...new Set(lines.map((line) => line[which]).filter((text) => text !== null).map(normalNumber))];
}
