import type { PaperLine, PrintedValue } from '#libs/strip';

/** What a column of a paper has in common: everything of a value but its digits. */
export type ValueHead = Omit<PrintedValue, 'printed'>;

/** A line: coil, heat, and for each value the place of its head and the digits as printed. */
export type PackedLine = readonly [coilNumber: string | null, heatNumber: string | null, ...values: (readonly [head: number, printed: string])[]];

/** The lines of a paper as they are stored: papers say the same of a column on each line, so it is said once. */
export interface PackedLines {
  readonly heads: readonly ValueHead[];
  readonly lines: readonly PackedLine[];
}

/** Lines without their repetitions; `unpackedLines` gives them again, in their order. */
export function packedLines(lines: readonly PaperLine[]): PackedLines {
  const heads: ValueHead[] = [];
  const places = new Map<string, number>();
  const placeOf = (value: PrintedValue): number => {
    const key = keyOfHead(value);
    const known = places.get(key);
    if (known !== undefined) return known;
    places.set(key, heads.length);
    return heads.push(headOf(value)) - 1;
  };
  const packed = lines.map(({ coilNumber, heatNumber, values }): PackedLine =>
    [coilNumber, heatNumber, ...values.map((value) => [placeOf(value), value.printed] as const)]);
  return { heads, lines: packed };
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
export function unpackedLines({ heads, lines }: PackedLines): PaperLine[] {
  return lines.map(([coilNumber, heatNumber, ...values]) => ({
    coilNumber, heatNumber, values: values.map(([head, printed]) => valueOf(heads[head], printed)),
  }));
}

function valueOf(head: ValueHead | undefined, printed: string): PrintedValue {
  if (head === undefined) throw new Error('a packed line names a head that is not there');
  const { characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction } = head;
  return { characteristic, analysis, printed, unit, multiplier, expandedU, temperatureC, baseMm, location, direction };
}

function headOf({ characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction }: PrintedValue): ValueHead {
  return { characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction };
}

/** Free texts come last and by JSON, so that no text can look like another head. */
function keyOfHead({ characteristic, analysis, unit, multiplier, expandedU, temperatureC, baseMm, location, direction }: PrintedValue): string {
  const plain = `${characteristic}|${analysis ?? ''}|${unit}|${multiplier}|${expandedU ?? ''}|${temperatureC ?? ''}|${baseMm ?? ''}`;
  return location === null && direction === null ? plain : `${plain}|${JSON.stringify([location, direction])}`;
}
