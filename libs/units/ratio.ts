/** An exact rational number in lowest terms, with a positive denominator. */
export interface Ratio {
  readonly numerator: bigint;
  readonly denominator: bigint;
}

/** `numerator / denominator` in lowest terms. Throws RangeError when the denominator is 0. */
export function ratio(numerator: bigint, denominator = 1n): Ratio {
  if (denominator === 0n) throw new RangeError(`ratio has a zero denominator: ${String(numerator)}/0`);
  const shared = greatestCommonDivisor(numerator, denominator);
  const divisor = denominator < 0n ? -shared : shared;
  return Object.freeze({ numerator: numerator / divisor, denominator: denominator / divisor });
}

/** The exact value of a plain decimal such as `25.4`. Throws SyntaxError on any other text. */
export function decimal(text: string): Ratio {
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(text);
  if (match === null) throw new SyntaxError(`not a plain decimal: ${JSON.stringify(text)}`);
  const [, sign = '', whole = '', fraction = ''] = match;
  return ratio(BigInt(`${sign}${whole}${fraction}`), 10n ** BigInt(fraction.length));
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

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [larger, smaller] = [a < 0n ? -a : a, b < 0n ? -b : b];
  while (smaller !== 0n) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}
