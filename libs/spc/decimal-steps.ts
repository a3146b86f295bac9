/** Values as counts of one step. */
export interface StepCounts {
  readonly counts: readonly number[];
  /** How many steps make one unit of the values: a power of ten, or 1 where they are taken as they are. */
  readonly perUnit: number;
}

/** What instruments and people write down has fewer decimals; what has more was computed. Our own choice. */
const MOST_DECIMALS = 9;

/**
 * Readings are decimals, and doubles are only near most of them: that of 10000000.1 is off by 4e-10. As whole counts of
 * the step of their last decimal they are exact, and so are their differences. Values that are no decimals of at most nine digits
 * after the point, or too large to be counted exactly, are given back as they are.
 */
export function stepCounts(values: readonly number[]): StepCounts {
  let decimals = 0;
  for (const value of values) {
    // A value that some step counts, every finer one counts too.
    while (!isCounted(value, decimals)) if (++decimals > MOST_DECIMALS) return { counts: values, perUnit: 1 };
  }
  const perUnit = 10 ** decimals;
  const counts = values.map((value) => Math.round(value * perUnit));
  return counts.every((count) => Number.isSafeInteger(count)) ? { counts, perUnit } : { counts: values, perUnit: 1 };
}

/** Whether a double is the nearest one to a whole count of steps: the quotient of two numbers that doubles hold exactly is rounded once. */
function isCounted(value: number, decimals: number): boolean {
  const perUnit = 10 ** decimals;
  const count = Math.round(value * perUnit);
  return Number.isSafeInteger(count) && count / perUnit === value;
}
