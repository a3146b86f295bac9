import { keyOfTexts } from '#libs/conformity';
import type { PaperLine, PrintedValue } from '#libs/strip';

/** What a column of a paper has in common: everything of a value but its digits; what is null, or a multiplier of 1, is left out. */
export type ValueHead = Pick<PrintedValue, 'characteristic' | 'unit'> & Partial<Omit<PrintedValue, 'printed'>>;

/** A line: coil, heat, the place of its shape, and the digits of its values as printed, a tab between them. */
export type PackedLine = readonly [coilNumber: string | null, heatNumber: string | null, shape: number, digits: string];

/** The lines of a paper as they are stored: papers say the same of a column on each line, so it is said once. */
export interface PackedLines {
  readonly heads: readonly ValueHead[];
  /** Which heads the values of a line have, in their order; most lines of a paper have one shape. */
  readonly shapes: readonly (readonly number[])[];
  readonly lines: readonly PackedLine[];
}

/** No digits hold one: a value with a tab in it cannot be read, and is refused before it comes here. */
const BETWEEN = '\t';

/** Lines without their repetitions; `unpackedLines` gives them again, in their order. Throws RangeError on a tab in digits. */
export function packedLines(lines: readonly PaperLine[]): PackedLines {
  const heads = new Places(headOf);
  const shapes = new Places((shape: readonly number[]) => shape);
  let last: { readonly values: readonly PrintedValue[]; readonly place: number } | null = null;
  const packed = lines.map(({ coilNumber, heatNumber, values }): PackedLine => {
    // Mostly the line before had the same shape.
    if (last === null || !haveSameHeads(values, last.values)) {
      const shape = values.map((value) => heads.of(keyOfHead(value), value));
      last = { values, place: shapes.of(shape.join(), shape) };
    }
    return [coilNumber, heatNumber, last.place, digitsOf(values)];
  });
  return { heads: heads.all, shapes: shapes.all, lines: packed };
}

function haveSameHeads(ones: readonly PrintedValue[], others: readonly PrintedValue[]): boolean {
  return ones.length === others.length && ones.every((one, index) => one === others[index] || hasSameHead(one, others[index]));
}

function hasSameHead(one: PrintedValue, other: PrintedValue | undefined): boolean {
  return other !== undefined && one.characteristic === other.characteristic && one.analysis === other.analysis && one.unit === other.unit
    && one.multiplier === other.multiplier && one.expandedU === other.expandedU && one.temperatureC === other.temperatureC
    && one.baseMm === other.baseMm && one.location === other.location && one.direction === other.direction;
}

function digitsOf(values: readonly PrintedValue[]): string {
  let digits = '';
  for (const [index, { printed }] of values.entries()) {
    if (printed.includes(BETWEEN)) throw new RangeError('printed digits hold a tab');
    digits += index === 0 ? printed : BETWEEN + printed;
  }
  return digits;
}

/** Things kept once each, and found by a key. */
class Places<Given, Kept> {
  readonly all: Kept[] = [];
  private readonly places = new Map<string, number>();

  constructor(private readonly keep: (given: Given) => Kept) {}

  /** The place of what has this key; `given` is kept when it is the first. */
  of(key: string, given: Given): number {
    const known = this.places.get(key);
    if (known !== undefined) return known;
    this.places.set(key, this.all.length);
    return this.all.push(this.keep(given)) - 1;
  }
}

const unpacked = new WeakMap<PackedLines, readonly PaperLine[]>();

/** The lines of a keying, unpacked once. */
export function linesOf({ packedLines: packed }: { readonly packedLines: PackedLines }): readonly PaperLine[] {
  const known = unpacked.get(packed);
  if (known !== undefined) return known;
  const lines = unpackedLines(packed);
  unpacked.set(packed, lines);
  return lines;
}

/** The lines that were packed. */
export function unpackedLines({ heads, shapes, lines }: PackedLines): PaperLine[] {
  return lines.map(([coilNumber, heatNumber, shape, digits]) => {
    const printed = digits.split(BETWEEN);
    return { coilNumber, heatNumber, values: (shapes[shape] ?? []).map((head, index) => valueOf(heads[head], printed[index] ?? '')) };
  });
}

function valueOf(head: ValueHead | undefined, printed: string): PrintedValue {
  if (head === undefined) throw new Error('a packed line names a head that is not there');
  const { characteristic, analysis = null, unit, multiplier = '1', expandedU = null, temperatureC = null, baseMm = null, location = null, direction = null } = head;
  return { characteristic, analysis, printed, unit, multiplier, expandedU, temperatureC, baseMm, location, direction };
}

function headOf({ characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction }: PrintedValue): ValueHead {
  return {
    characteristic, unit, ...(analysis !== null && { analysis }), ...(multiplier !== '1' && { multiplier }), ...(expandedU !== null && { expandedU }),
    ...(temperatureC !== null && { temperatureC }), ...(baseMm !== null && { baseMm }), ...(location !== null && { location }), ...(direction !== null && { direction }),
  };
}

function keyOfHead({ characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction }: PrintedValue): string {
  return keyOfTexts(characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction);
}
