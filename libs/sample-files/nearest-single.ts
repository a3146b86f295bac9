const { abs, fround, max, min, sign } = Math;
const LARGEST = fround(3.4028234663852886e38);
/** Halfway between the largest float32 and 2^128: from here on a number is infinite. */
const HALFWAY_TO_INFINITY = 2 ** 128 - 2 ** 103;

/**
 * The float32 nearest to a number of which `double` is the nearest double, ties to the even one. Rounding the double is wrong
 * where it lies exactly between two float32s and the number does not; there, `beyond` is asked whether the number lies above
 * (positive) or below (negative) the double.
 */
export function nearestSingle(double: number, beyond: () => number): number {
  const single = fround(double);
  if (single === double || Number.isNaN(double)) return single;
  const other = otherOf(double, single);
  if (other === null) return single;
  const side = beyond();
  if (side === 0) return single;
  return side > 0 ? max(single, other) : min(single, other);
}

/** The float32 on the other side of a double that lies exactly halfway, or null where it does not. */
function otherOf(double: number, single: number): number | null {
  if (abs(single) === Infinity) return abs(double) === HALFWAY_TO_INFINITY ? sign(single) * LARGEST : null;
  const other = 2 * double - single;
  return fround(other) === other ? other : null;
}
