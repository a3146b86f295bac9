import type { Ratio } from '#libs/exact';
import { compare, decimal, minus, over, ratio } from '#libs/exact';

/**
 * Slips of unit and of the decimal point: the value over what was expected comes out near one of a few telling numbers.
 * The list is common practice, no published source; 6.895 is MPa in a ksi and kPa in a psi.
 */
export interface Slip {
  /** What the value is times too large: `25.4`, or `1/25.4` where it is too small. */
  readonly factor: string;
  readonly because: string;
}

const SLIPS: readonly Slip[] = [
  { factor: '25.4', because: 'millimetres in a field of inches' },
  { factor: '1/25.4', because: 'inches in a field of mm' },
  { factor: '6.895', because: 'MPa in a field of ksi, or kPa in a field of psi' },
  { factor: '1/6.895', because: 'ksi in a field of MPa, or psi in a field of kPa' },
  { factor: '0.3048', because: 'metres in a field of feet' },
  { factor: '1/0.3048', because: 'feet in a field of metres' },
  { factor: '10', because: 'decimal point one place too far right' },
  { factor: '1/10', because: 'decimal point one place too far left' },
  { factor: '100', because: 'decimal point two places too far right, or a column printed ×100' },
  { factor: '1/100', because: 'decimal point two places too far left' },
  { factor: '1000', because: 'decimal point three places too far right, or a unit a thousand times smaller' },
  { factor: '1/1000', because: 'decimal point three places too far left, or a unit a thousand times larger' },
];

/** The widest tolerance at which no ratio is near two of the factors: 6.895 × 1.18 stays below 10 × 0.82. */
const WIDEST_TOLERANCE = decimal('0.18');
const ONE = ratio(1n);
const ZERO = ratio(0n);

/**
 * The slip by which `value` would be what was expected, or null. `tolerance` is relative: the value over the expected one
 * over the factor lies within it of 1, ends included. Values of 0 or below have no slip.
 * Throws RangeError when the tolerance is below 0 or above 18 %, where factors could no longer be told apart.
 */
export function slipOf(value: Ratio, expected: Ratio, tolerance: Ratio = decimal('0.03')): Slip | null {
  if (compare(tolerance, ZERO) < 0 || compare(tolerance, WIDEST_TOLERANCE) > 0) throw new RangeError('tolerance must be from 0 to 18 %');
  if (compare(value, ZERO) <= 0 || compare(expected, ZERO) <= 0) return null;
  const found = over(value, expected);
  return SLIPS.find(({ factor }) => isNearOne(over(found, factorOf(factor)), tolerance)) ?? null;
}

function factorOf(text: string): Ratio {
  return text.startsWith('1/') ? over(ONE, decimal(text.slice(2))) : decimal(text);
}

function isNearOne(value: Ratio, tolerance: Ratio): boolean {
  const difference = minus(value, ONE);
  return compare(difference, tolerance) <= 0 && compare(minus(ZERO, difference), tolerance) <= 0;
}
