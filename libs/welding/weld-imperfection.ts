/**
 * Limits of ISO 5817 for imperfections of butt welds in steel, by quality level; B is the strictest. Only what a source could
 * be read for, and linear misalignment from memory: other imperfections have limits that are not known here. An arc process
 * is assumed, as by the standard; for seams without an arc they hold by agreement only.
 */
import { compare, decimal, exactText, plus, times, type Ratio } from '#libs/exact';

export type QualityLevel = 'B' | 'C' | 'D';

export type ImperfectionLimit =
  | { readonly permitted: false; readonly source: string; readonly fromMemory: boolean }
  | {
      readonly permitted: true;
      /** Height, depth or offset, decimal text in full; the limit conforms. */
      readonly maxMm: string;
      /** Only short ones: at most 25 mm in any 100 mm of weld (from memory). */
      readonly onlyShort: boolean;
      readonly source: string;
      readonly fromMemory: boolean;
    };

/** base + factor × size, at most cap; null where it is not permitted. */
type Cell = { readonly base: string; readonly factor: string; readonly cap: string | null } | null;
type Cells = Readonly<Record<QualityLevel, Cell>>;

const cell = (factor: string, cap: string | null = null, base = '0'): Cell => ({ base, factor, cap });

const EXTRACT = 'ISO 5817:2003 / EN ISO 5817:2007, table 1, unchanged in 2014 (from memory)';
const UNDERCUT_THIN: Cells = { D: cell('0.2'), C: cell('0.1'), B: null };
const UNDERCUT: Cells = { D: cell('0.2', '1'), C: cell('0.1', '0.5'), B: cell('0.05', '0.5') };
const EXCESS: Cells = { D: cell('0.25', '10', '1'), C: cell('0.15', '7', '1'), B: cell('0.1', '5', '1') };
const ROOT: Cells = { D: cell('0.2', '2'), C: null, B: null };
const MISALIGNMENT_THIN: Cells = { D: cell('0.25', null, '0.2'), C: cell('0.15', null, '0.2'), B: cell('0.1', null, '0.2') };
const MISALIGNMENT: Cells = { D: cell('0.25', '5'), C: cell('0.15', '4'), B: cell('0.1', '3') };

/** Where the second band of thickness begins, and the first: 0.5 to 3 mm, and above 3 mm. */
const THIN_TO_MM = decimal('3');
const THINNEST_MM = decimal('0.5');

/** Depth of undercut, continuous or intermittent (5011, 5012), by thickness. Throws as `thicknessOf` says. */
export function undercutLimit(level: QualityLevel, thicknessMm: string): ImperfectionLimit {
  const thickness = thicknessOf(thicknessMm);
  const isThin = compare(thickness, THIN_TO_MM) <= 0;
  return limitOf((isThin ? UNDERCUT_THIN : UNDERCUT)[level], thickness, { onlyShort: isThin, source: EXTRACT, fromMemory: false });
}

/** Height of excess weld metal on a butt weld (502), by the width of the weld. Throws as `thicknessOf` says, and unless the width is over 0. */
export function excessWeldMetalLimit(level: QualityLevel, thicknessMm: string, weldWidthMm: string): ImperfectionLimit {
  thicknessOf(thicknessMm);
  const width = decimal(weldWidthMm);
  if (width.numerator <= 0n) throw new RangeError(`weld width must be over 0 mm: ${weldWidthMm}`);
  return limitOf(EXCESS[level], width, { onlyShort: false, source: EXTRACT, fromMemory: false });
}

/** Depth of incomplete root penetration (4021), by thickness. Throws as `thicknessOf` says. */
export function rootPenetrationLimit(level: QualityLevel, thicknessMm: string): ImperfectionLimit {
  return limitOf(ROOT[level], thicknessOf(thicknessMm), { onlyShort: true, source: 'ISO 5817:2014, table 1', fromMemory: false });
}

/** Cracks (100) and crater cracks (104): permitted at no level. */
export const CRACK_LIMIT: ImperfectionLimit = Object.freeze({ permitted: false, source: 'ISO 5817:2014, table 1', fromMemory: false });

/** Linear misalignment of plates in a lengthwise weld (5071), by thickness: from memory. Throws as `thicknessOf` says. */
export function misalignmentLimit(level: QualityLevel, thicknessMm: string): ImperfectionLimit {
  const thickness = thicknessOf(thicknessMm);
  const cells = compare(thickness, THIN_TO_MM) <= 0 ? MISALIGNMENT_THIN : MISALIGNMENT;
  return limitOf(cells[level], thickness, { onlyShort: false, source: 'ISO 5817:2014, table 1, 3.1', fromMemory: true });
}

/** Throws SyntaxError when it is no plain decimal, and RangeError below 0.5 mm, where the standard ends. */
function thicknessOf(thicknessMm: string): Ratio {
  const thickness = decimal(thicknessMm);
  if (compare(thickness, THINNEST_MM) < 0) throw new RangeError(`ISO 5817 begins at a thickness of 0.5 mm: ${thicknessMm}`);
  return thickness;
}

type Origin = { readonly onlyShort: boolean; readonly source: string; readonly fromMemory: boolean };

function limitOf(found: Cell, size: Ratio, { onlyShort, source, fromMemory }: Origin): ImperfectionLimit {
  if (found === null) return { permitted: false, source, fromMemory };
  const { base, factor, cap } = found;
  const most = plus(decimal(base), times(decimal(factor), size));
  const limit = cap !== null && compare(most, decimal(cap)) > 0 ? decimal(cap) : most;
  return { permitted: true, maxMm: textOf(limit), onlyShort, source, fromMemory };
}

/** Products and sums of decimals have an end. */
function textOf(value: Ratio): string {
  const text = exactText(value);
  if (text === null) throw new RangeError('a limit has no end as a decimal');
  return text;
}
