/** What all control charts have in common: points with their own limits, and points that the limits were taken without. */

/** A point that is not to count for the limits. Points are numbered from 1. */
export interface LeftOut {
  readonly point: number;
  readonly reason: string;
}

export interface ChartPoint {
  /** From 1. */
  readonly point: number;
  readonly value: number;
  readonly centre: number;
  /** Three standard deviations from the centre, where it says nothing else; a limit that cannot be passed is at the end of what can be. */
  readonly lower: number;
  readonly upper: number;
  /** The standard deviation of the plotted value while nothing but chance acts. */
  readonly standardError: number;
  /** Why the limits were taken without it; null where it counts. It is charted all the same. */
  readonly leftOut: string | null;
}

/** The numbers of the points strictly beyond a limit: one exactly on it is not. */
export function pointsBeyond(points: readonly Pick<ChartPoint, 'point' | 'value' | 'lower' | 'upper'>[]): number[] {
  return points.filter(({ value, lower, upper }) => value < lower || value > upper).map(({ point }) => point);
}

/** How many standard deviations each point lies from its centre: what run rules are asked about. */
export function standardised(points: readonly ChartPoint[]): number[] {
  return points.map(({ value, centre, standardError }) => (value - centre) / standardError);
}

/** By point, why each is left out. Throws RangeError for a point that is not there or named twice, and for an empty reason. */
export function reasonsByPoint(leftOut: readonly LeftOut[], points: number): ReadonlyMap<number, string> {
  const reasons = new Map<number, string>();
  for (const { point, reason } of leftOut) {
    if (!(Number.isSafeInteger(point) && point >= 1 && point <= points)) throw new RangeError(`there is no point ${point} to leave out, of ${points}`);
    if (reasons.has(point)) throw new RangeError(`point ${point} is left out twice`);
    if (reason.trim() === '') throw new RangeError(`point ${point} is left out without a reason`);
    reasons.set(point, reason);
  }
  return reasons;
}

/** The items that count, whose place is their point less 1. Throws RangeError when nothing is left. */
export function counting<Item>(items: readonly Item[], reasons: ReadonlyMap<number, string>): Item[] {
  const left = items.filter((_, index) => !reasons.has(index + 1));
  if (left.length === 0) throw new RangeError('no point is left to take limits from');
  return left;
}

/** The limits of a value that cannot be below `least` or above `most`, 3 standard errors about its centre. */
export function withLimits(
  given: Pick<ChartPoint, 'point' | 'value' | 'centre' | 'standardError'>, reasons: ReadonlyMap<number, string>, least = -Infinity, most = Infinity,
): ChartPoint {
  const { point, value, centre, standardError } = given;
  return {
    point, value, centre, standardError, lower: Math.max(centre - 3 * standardError, least), upper: Math.min(centre + 3 * standardError, most),
    leftOut: reasons.get(point) ?? null,
  };
}

/** Throws RangeError when what limits are taken from does not vary: they would all lie on the centre. */
export function demandSpread(sigma: number, what: string): void {
  if (!(sigma > 0 && sigma < Infinity)) throw new RangeError(`${what} show no spread to take limits from`);
}
