import type { SamplingPlan } from './acceptance-sampling.js';

/** How thoroughly lots are sampled; II where nothing else was agreed. */
export type InspectionLevel = 'S-1' | 'S-2' | 'S-3' | 'S-4' | 'I' | 'II' | 'III';

/** The greatest lot of each row of the table of code letters; the last row has none. */
const LOT_SIZES = [8, 15, 25, 50, 90, 150, 280, 500, 1200, 3200, 10_000, 35_000, 150_000, 500_000, Infinity];

/**
 * Sample size code letters by lot size: MIL-STD-105E (1989), Table I, the same as ISO 2859-1:1999. Levels II, S-1, S-2 and S-3
 * were seen in public copies; S-4, I and III are from memory.
 */
const CODE_LETTERS: Readonly<Record<InspectionLevel, string>> = {
  'S-1': 'AAAABBBBCCCCDDD',
  'S-2': 'AAABBBCCCDDDEEE',
  'S-3': 'AABBCCDDEEFFGGH',
  'S-4': 'AABCCDEEFGGHJJK',
  I: 'AABCCDEFGHJKLMN',
  II: 'ABCDEFGHJKLMNPQ',
  III: 'BCDEFGHJKLMNPQR',
};

/** A plan of the table: the letter that the lot gives, and the one that its cell or an arrow in it leads to. */
export interface StandardPlan extends SamplingPlan {
  readonly letterByLot: string;
  readonly letter: string;
  /** From this number of nonconforming items on the lot is rejected. */
  readonly rejection: number;
  /** The sample is no smaller than the lot: all of it is inspected. */
  readonly isWholeLot: boolean;
}

/**
 * Cells of single sampling, normal inspection, by the letter of the lot and the acceptance quality limit in percent: the letter
 * used, its sample size and the acceptance number. MIL-STD-105E (1989), Table II-A, the same as ISO 2859-1:1999. Held are the
 * cells that were seen in a public copy, and no others.
 */
const NORMAL_CELLS: ReadonlyMap<string, readonly [letter: string, n: number, acceptance: number]> = new Map([
  ['A 6.5', ['A', 2, 0]],
  ['C 2.5', ['C', 5, 0]],
  ['D 4', ['E', 13, 1]],
  ['E 1', ['E', 13, 0]],
  ['F 1', ['E', 13, 0]],
  ['G 0.65', ['F', 20, 0]],
  ['H 0.65', ['J', 80, 1]],
  ['H 1.5', ['H', 50, 2]],
  ['J 1', ['J', 80, 2]],
  ['K 0.65', ['K', 125, 2]],
  ['K 1', ['K', 125, 3]],
  ['K 10', ['K', 125, 21]],
  ['L 2.5', ['L', 200, 10]],
]);

/** The code letter of a lot of this many items. Throws RangeError with fewer than 2 items, or no whole number of them. */
export function codeLetter(lotSize: number, level: InspectionLevel): string {
  if (!(Number.isSafeInteger(lotSize) && lotSize >= 2)) throw new RangeError(`a lot has at least 2 items: ${lotSize}`);
  return CODE_LETTERS[level].charAt(LOT_SIZES.findIndex((most) => lotSize <= most));
}

/**
 * The single sampling plan for normal inspection of a lot, by its acceptance quality limit in percent nonconforming. Null where
 * the cell of the table was not seen in a source: the plan is then not known here, and must be read from the standard. Throws
 * RangeError as `codeLetter` does.
 */
export function standardPlan(lotSize: number, aqlPercent: number, level: InspectionLevel = 'II'): StandardPlan | null {
  const letterByLot = codeLetter(lotSize, level);
  const cell = NORMAL_CELLS.get(`${letterByLot} ${aqlPercent}`);
  if (cell === undefined) return null;
  const [letter, n, acceptance] = cell;
  return { letterByLot, letter, n, acceptance, rejection: acceptance + 1, isWholeLot: n >= lotSize };
}
