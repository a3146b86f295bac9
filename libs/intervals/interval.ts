/** A half-open interval `[fromMm, toMm)` of positions in integer millimetres; never empty. */
export interface Interval {
  readonly fromMm: number;
  readonly toMm: number;
}

/**
 * The interval `[fromMm, toMm)`, frozen.
 * Throws RangeError naming the value when a bound is not a safe integer, or when the interval is empty or reversed.
 */
export function interval(fromMm: number, toMm: number): Interval {
  checkInterval(fromMm, toMm);
  return Object.freeze({ fromMm: fromMm + 0, toMm: toMm + 0 });
}

/** Throws as `interval` does, and makes none. */
export function checkInterval(fromMm: number, toMm: number): void {
  const from = wholeMillimetres(fromMm, 'fromMm');
  const to = wholeMillimetres(toMm, 'toMm');
  if (from === to) throw new RangeError(`interval is empty: [${from}, ${to})`);
  if (from > to) throw new RangeError(`interval is reversed: [${from}, ${to})`);
}

/** `valueMm` itself, with -0 made 0. Throws RangeError with the name and the value when it is not a safe integer. */
export function wholeMillimetres(valueMm: number, name: string): number {
  if (!Number.isSafeInteger(valueMm)) throw new RangeError(`${name} is not a safe integer: ${valueMm}`);
  return valueMm + 0;
}
