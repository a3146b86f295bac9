import { compare, minus, over, plus, ratio, rounded, times, toNumber, type Ratio } from '#libs/exact';

/** One class of a histogram: the values from `from` up to but not including `to`. */
export interface HistogramClass {
  readonly from: Ratio;
  readonly to: Ratio;
  readonly count: number;
}

/**
 * The classes of a histogram, by one rule that values and nothing else decide:
 * 1. Aim at k = 1 + log₂ n classes, rounded up (Sturges, Journal of the American Statistical Association 21, 1926, 65-66; from
 *    memory).
 * 2. The width is the smallest of 1, 2 or 5 times a power of ten that is at least the range over k.
 * 3. Edges are whole multiples of the width; a class holds its lower edge and not its upper one. There are no more than
 *    k + 1 classes; empty ones between others are among them.
 * Values that are all equal make one class without width, which holds them. No values, no classes.
 * All of it is exact: a value on an edge falls where the rule says.
 */
export function histogram(values: readonly Ratio[]): HistogramClass[] {
  const [first] = values;
  if (first === undefined) return [];
  const [low, high] = extremes(values, first);
  if (compare(low, high) === 0) return [{ from: low, to: high, count: values.length }];
  const width = classWidth(minus(high, low), aimedClasses(values.length));
  const start = indexOf(low, width);
  const counts = new Array<number>(Number(indexOf(high, width) - start) + 1).fill(0);
  for (const value of values) {
    const index = Number(indexOf(value, width) - start);
    counts[index] = (counts[index] ?? 0) + 1;
  }
  return counts.map((count, index) => {
    const from = times(ratio(start + BigInt(index)), width);
    return { from, to: plus(from, width), count };
  });
}

const aimedClasses = (n: number): bigint => BigInt(1 + Math.ceil(Math.log2(n)));

/** The multiple of `width` at or below `value`. */
const indexOf = (value: Ratio, width: Ratio): bigint => rounded(over(value, width), 0, 'floor').numerator;

function classWidth(range: Ratio, classes: bigint): Ratio {
  const least = over(range, ratio(classes));
  // One step lower than the logarithm says, since it is only nearly right at a power of ten.
  let exponent = Math.floor(Math.log10(toNumber(least))) - 1;
  for (;;) {
    const power = exponent < 0 ? ratio(1n, 10n ** BigInt(-exponent)) : ratio(10n ** BigInt(exponent));
    const found = [1n, 2n, 5n].map((digit) => times(ratio(digit), power)).find((width) => compare(width, least) >= 0);
    if (found !== undefined) return found;
    exponent += 1;
  }
}

function extremes(values: readonly Ratio[], first: Ratio): [low: Ratio, high: Ratio] {
  let [low, high] = [first, first];
  for (const value of values) {
    if (compare(value, low) < 0) low = value;
    if (compare(value, high) > 0) high = value;
  }
  return [low, high];
}
