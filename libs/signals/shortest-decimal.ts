const { fround } = Math;
const MOST_DIGITS = 9;

/** The shortest decimal, of six digits and more, whose nearest float32 this value is: nine are always enough (IEEE 754-2019, 5.12.2). Of a NaN or an infinity itself. */
export function shortestDecimal(single: number): number {
  for (let digits = 6; digits < MOST_DIGITS; digits += 1) {
    const shorter = Number(single.toPrecision(digits));
    if (fround(shorter) === single) return shorter;
  }
  return Number(single.toPrecision(MOST_DIGITS));
}
