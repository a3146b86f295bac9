import { type Ratio, ratio } from './ratio.js';

/** What becomes of a value half way between two neighbours: the even one, or the one further from zero. */
export type Ties = 'half-even' | 'half-away';

/** To the nearest, with a rule for ties; or always down, or always up. */
export type Rounding = Ties | 'floor' | 'ceiling';

/**
 * `value` rounded once to `decimals` digits after the point. Negative counts places before it: -2 rounds to hundreds.
 * Throws RangeError when `decimals` is not a whole number.
 */
export function rounded(value: Ratio, decimals: number, rounding: Rounding): Ratio {
  const units = wholeUnits(value, decimals, rounding);
  const scale = powerOfTen(decimals);
  return decimals >= 0 ? ratio(units, scale) : ratio(units * scale);
}

/**
 * `value` rounded once, as decimal text with exactly `decimals` digits after the point; never "-0". A negative number of
 * decimals rounds to tens, hundreds and so on, and prints a whole number.
 * Throws RangeError when `decimals` is not a whole number.
 */
export function decimalText(value: Ratio, decimals: number, ties: Ties): string {
  const units = wholeUnits(value, decimals, ties);
  const digits = String(units < 0n ? -units : units);
  const sign = units < 0n ? '-' : '';
  if (decimals <= 0) return units === 0n ? '0' : sign + digits + '0'.repeat(-decimals);
  const padded = digits.padStart(decimals + 1, '0');
  return `${sign}${padded.slice(0, -decimals)}.${padded.slice(-decimals)}`;
}

/** `value` as decimal text in full, without idle zeros; null when its decimal does not end. */
export function exactText(value: Ratio): string | null {
  const [twos, afterTwos] = factorsOf(value.denominator, 2n);
  const [fives, rest] = factorsOf(afterTwos, 5n);
  return rest === 1n ? decimalText(value, Math.max(twos, fives), 'half-even') : null;
}

/** `value` in units of the last place that is kept, as a whole number of them. */
function wholeUnits(value: Ratio, decimals: number, rounding: Rounding): bigint {
  const scale = powerOfTen(decimals);
  const numerator = decimals >= 0 ? value.numerator * scale : value.numerator;
  const denominator = decimals >= 0 ? value.denominator : value.denominator * scale;
  const towardsZero = numerator / denominator;
  const rest = numerator % denominator;
  if (rest === 0n) return towardsZero;
  const isNegative = rest < 0n;
  const awayFromZero = isNegative ? towardsZero - 1n : towardsZero + 1n;
  if (rounding === 'floor') return isNegative ? awayFromZero : towardsZero;
  if (rounding === 'ceiling') return isNegative ? towardsZero : awayFromZero;
  const twice = isNegative ? -2n * rest : 2n * rest;
  if (twice !== denominator) return twice < denominator ? towardsZero : awayFromZero;
  return rounding === 'half-even' && towardsZero % 2n === 0n ? towardsZero : awayFromZero;
}

function powerOfTen(decimals: number): bigint {
  if (!Number.isSafeInteger(decimals)) throw new RangeError(`decimals is not a whole number: ${decimals}`);
  return 10n ** BigInt(Math.abs(decimals));
}

/** How often `factor` divides `value`, and what is left. */
function factorsOf(value: bigint, factor: bigint): [count: number, rest: bigint] {
  let [count, rest] = [0, value];
  while (rest % factor === 0n) [count, rest] = [count + 1, rest / factor];
  return [count, rest];
}
