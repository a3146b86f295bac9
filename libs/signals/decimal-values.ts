/*
 * What an instrument prints is a decimal of few places, and as a float32 it looks like noise in the low bits. Where a value
 * is the float32 nearest to k / 10^d, the whole number k says it all.
 */

/** More places than a float32 carries for values of instruments. */
export const MAX_PLACES = 7;
const POWERS = Float64Array.from({ length: MAX_PLACES + 1 }, (_, places) => 10 ** places);
/** So that the distance of any two is a whole number of 32 bits. */
const LARGEST = 2 ** 30 - 1;
const { floor, fround } = Math;
const LOOKED_AT = 64;
/** A share of values that have no such decimal is borne, since they are kept apart. */
const USUAL_SHARE = 7 / 8;

export interface Decimals {
  /** k of the first value. */
  readonly first: number;
  /** How far k of each value is from the first; of a value kept apart, that of the value before. */
  readonly distances: Int32Array;
  /** Indices of the values that are not the float32 nearest to k / 10^d: they are kept by their bits. */
  readonly apart: readonly number[];
}

/**
 * Numbers of places with which most values can be written, by a look at 64 of them: the fewest that will do, and where a
 * few values want more, the most that one of those looked at wants. None when there are no such numbers.
 */
export function likelyPlaces(values: Float32Array): number[] {
  const wanted = new Uint32Array(MAX_PLACES + 2);
  const stride = Math.max(1, Math.floor(values.length / LOOKED_AT));
  let looked = 0;
  for (let index = 0; index < values.length; index += stride, looked += 1) {
    const places = placesOf(values[index] as number);
    wanted[places] = (wanted[places] as number) + 1;
  }
  const candidates: number[] = [];
  for (let places = 0, within = 0; places <= MAX_PLACES; places += 1) {
    within += wanted[places] as number;
    if ((wanted[places] as number) > 0 && within >= looked * USUAL_SHARE) candidates.push(places);
  }
  return candidates.length <= 2 ? candidates : [candidates[0] as number, candidates.at(-1) as number];
}

/** Fewest places with which a value can be written, or one more than there can be. */
function placesOf(value: number): number {
  let places = 0;
  while (places <= MAX_PLACES && !isDecimal(value, nearest(value, POWERS[places] as number), 1 / (POWERS[places] as number))) places += 1;
  return places;
}

/**
 * The whole number k nearest to value × power; exact, since their product and a half more have fewer bits than a double. Where that takes
 * more than 32 bits it is some other number, and the value is no decimal of it.
 */
const nearest = (value: number, power: number): number => floor(value * power + 0.5) | 0;

/**
 * Whether the value is the float32 nearest to k / power. Comparing as numbers takes −0 for 0, which has no k of its own; NaN and
 * infinities never pass.
 *
 * Times the inverse costs far less than over the power, and says the same for the k nearest to value × power. The two differ by
 * 2^-52 of their size at most. Where one float32 gives way to the next, at an m × 2^e with m below 2^25, k / 10^d is either just
 * there or at least 2^-49 of its size away, since k / 2^e and m × 10^d are whole numbers. And it is never just there: with e ≥ −d,
 * as k is whole, the float32 beside it would be 2^-d or more away, and the value is within half of 10^-d.
 */
const isDecimal = (value: number, k: number, inverse: number): boolean =>
  fround(k * inverse) === value && k <= LARGEST && k >= -LARGEST && (k !== 0 || 1 / value > 0);

/** `distances`: where they go, of the length of the values. The first is 0 when the first value is kept apart. */
export function toDecimals(values: Float32Array, places: number, distances = new Int32Array(values.length)): Decimals {
  const power = POWERS[places] as number;
  const inverse = 1 / power;
  const apart: number[] = [];
  const nearestFirst = nearest(values[0] as number, power);
  const first = isDecimal(values[0] as number, nearestFirst, inverse) ? nearestFirst : 0;
  let last = 0;
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] as number;
    const k = nearest(value, power);
    if (isDecimal(value, k, inverse)) last = (k - first) | 0;
    else apart.push(index);
    distances[index] = last;
  }
  return { first, distances, apart };
}

/** The float32 nearest to k / 10^places into `values`, for each k that is so many steps from the first. */
export function fromDecimals(steps: Int32Array, { first, step, places }: { first: number; step: number; places: number }, values: Float32Array): void {
  const power = POWERS[places] as number;
  for (let index = 0; index < steps.length; index += 1) values[index] = ((steps[index] as number) * step + first) / power;
}
