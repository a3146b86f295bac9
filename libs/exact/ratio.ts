/** An exact rational number in lowest terms, with a positive denominator. */
export interface Ratio {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

const LARGEST_SAFE = BigInt(Number.MAX_SAFE_INTEGER);

/** `numerator / denominator` in lowest terms. Throws RangeError when the denominator is 0. */
export function ratio(numerator: bigint, denominator = 1n): Ratio {
  if (denominator === 0n) throw new RangeError(`ratio has a zero denominator: ${String(numerator)}/0`);
  const shared = greatestCommonDivisor(numerator, denominator);
  const divisor = denominator < 0n ? -shared : shared;
  return Object.freeze({ numerator: numerator / divisor, denominator: denominator / divisor });
}

/** The exact value of a plain decimal such as `25.4`. Throws SyntaxError on any other text. */
export function decimal(text: string): Ratio {
  const { sign, whole, fraction } = plainDecimal(text);
  return ratio(BigInt(sign + whole + fraction), 10n ** BigInt(fraction.length));
}

/** How many digits a plain decimal has after the point, zeros included. Throws SyntaxError on any other text. */
export function decimalsOf(text: string): number {
  return plainDecimal(text).fraction.length;
}

function plainDecimal(text: string): { sign: string; whole: string; fraction: string } {
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(text);
  if (match === null) throw new SyntaxError(`not a plain decimal: ${JSON.stringify(text)}`);
  const [, sign = '', whole = '', fraction = ''] = match;
  return { sign, whole, fraction };
}

export function times(a: Ratio, b: Ratio): Ratio {
  return ratio(a.numerator * b.numerator, a.denominator * b.denominator);
}

/** `a / b`. Throws RangeError when `b` is 0. */
export function over(a: Ratio, b: Ratio): Ratio {
  return ratio(a.numerator * b.denominator, a.denominator * b.numerator);
}

export function minus(a: Ratio, b: Ratio): Ratio {
  return ratio(a.numerator * b.denominator - b.numerator * a.denominator, a.denominator * b.denominator);
}

export function plus(a: Ratio, b: Ratio): Ratio {
  return ratio(a.numerator * b.denominator + b.numerator * a.denominator, a.denominator * b.denominator);
}

/** -1, 0 or 1 as `a` is below, equal to or above `b`. */
export function compare(a: Ratio, b: Ratio): -1 | 0 | 1 {
  const [left, right] = [a.numerator * b.denominator, b.numerator * a.denominator];
  if (left === right) return 0;
  return left < right ? -1 : 1;
}

/**
 * The double nearest to `value`. Infinite beyond the largest double, and less exact below the smallest normal one.
 * For showing and for probabilities: what decides stays a ratio.
 */
export function toNumber({ numerator, denominator }: Ratio): number {
  const [upper, lower] = [Number(numerator), Number(denominator)];
  if (Number.isSafeInteger(upper) && Number.isSafeInteger(lower)) return upper / lower;
  // A quotient of 64 bits or more; where the division leaves something over, its last bit says so, and the one rounding
  // to a double falls on the right side.
  const shift = bitLength(denominator) - bitLength(numerator) + 65;
  const [scaled, divisor] = shift > 0 ? [numerator << BigInt(shift), denominator] : [numerator, denominator << BigInt(-shift)];
  const quotient = scaled / divisor;
  const marked = scaled % divisor === 0n ? quotient : quotient | 1n;
  return Number(marked) * 2 ** -shift;
}

function bitLength(value: bigint): number {
  return (value < 0n ? -value : value).toString(2).length;
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [larger, smaller] = [a < 0n ? -a : a, b < 0n ? -b : b];
  while (smaller !== 0n) {
    // Once both fit into a double without loss, its remainder is exact and many times faster than that of bigints.
    if (larger <= LARGEST_SAFE && smaller <= LARGEST_SAFE) return BigInt(safeDivisor(Number(larger), Number(smaller)));
    [larger, smaller] = [smaller, larger % smaller];
  }
  return larger;
}

function safeDivisor(a: number, b: number): number {
  let [larger, smaller] = [a, b];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}
