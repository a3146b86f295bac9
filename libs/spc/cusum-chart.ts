/** What a tabular CUSUM is laid out by, all in the unit of the values. */
export interface CusumDesign {
  readonly target: number;
  /** The reference value: half the shift that is to be found soon. */
  readonly k: number;
  /** The decision interval: a sum strictly above it signals. */
  readonly h: number;
  /** Where both sums start, 0 if not given; h/2 gives a fast initial response. */
  readonly headStart?: number;
}

export interface CusumPoint {
  /** From 1. */
  readonly point: number;
  readonly high: number;
  readonly low: number;
  /** The sum of all differences from the target since the start, with their signs. */
  readonly sum: number;
  readonly signals: readonly CusumSignal[];
}

export interface CusumSignal {
  readonly side: 'high' | 'low';
  /** The first point since which this sum has been above 0: where the shift probably began; null where only the head start says so. */
  readonly since: number | null;
}

interface Sums {
  readonly high: number;
  readonly low: number;
  readonly sum: number;
  readonly highSince: number | null;
  readonly lowSince: number | null;
}

/**
 * The tabular CUSUM: high = max(0, x − (target + k) + high'), low = max(0, (target − k) − x + low'), both from the head start
 * on (E. S. Page, Biometrika 41, 1954, 100-115; the head start: Lucas and Crosier, Technometrics 24, 1982, 199-205). The sums
 * go on after a signal. Before the points of `beginsAnew` something else began, and they start again.
 * Throws RangeError when a value or the target is not finite, k is below 0, h is not above 0, or the head start is not from 0 to h.
 */
export function cusumPoints(values: readonly number[], design: CusumDesign, beginsAnew: readonly number[] = []): CusumPoint[] {
  demandDesign(design);
  const begins = new Set(beginsAnew);
  const { headStart = 0 } = design;
  const start: Sums = { high: headStart, low: headStart, sum: 0, highSince: null, lowSince: null };
  let sums = start;
  return values.map((value, index) => {
    if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
    sums = stepped(begins.has(index + 1) ? start : sums, value, design, index + 1);
    return { point: index + 1, high: sums.high, low: sums.low, sum: sums.sum, signals: signalsOf(sums, design.h) };
  });
}

function stepped(before: Sums, value: number, { target, k }: CusumDesign, point: number): Sums {
  const high = Math.max(0, value - (target + k) + before.high);
  const low = Math.max(0, target - k - value + before.low);
  const since = (sum: number, last: number, known: number | null): number | null => {
    if (sum === 0) return null;
    return last === 0 ? point : known;
  };
  return {
    high, low, sum: before.sum + (value - target),
    highSince: since(high, before.high, before.highSince), lowSince: since(low, before.low, before.lowSince),
  };
}

function signalsOf({ high, low, highSince, lowSince }: Sums, h: number): CusumSignal[] {
  return [
    ...(high > h ? [{ side: 'high', since: highSince } as const] : []),
    ...(low > h ? [{ side: 'low', since: lowSince } as const] : []),
  ];
}

function demandDesign({ target, k, h, headStart = 0 }: CusumDesign): void {
  if (!Number.isFinite(target)) throw new RangeError(`not a finite target: ${target}`);
  if (!(k >= 0 && k < Infinity)) throw new RangeError(`not a reference value: ${k}`);
  if (!(h > 0 && h < Infinity)) throw new RangeError(`not a decision interval: ${h}`);
  if (!(headStart >= 0 && headStart <= h)) throw new RangeError(`not a head start from 0 to ${h}: ${headStart}`);
}
