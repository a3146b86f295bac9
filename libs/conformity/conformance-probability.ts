import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * The probability that the true value lies within the limits, given the measured value `y` with standard uncertainty `u`,
 * in the unit of the limits: Φ((max − y)/u) − Φ((min − y)/u), normal distribution, nothing known beforehand
 * (JCGM 106:2012, section 7). A limit that is null is not there.
 * With u = 0 it is 1 inside the limits, which belong to it, and 0 outside.
 * Throws RangeError when a number is not finite, when u is below 0 or when the limits are reversed.
 */
export function conformanceProbability(y: number, u: number, min: number | null, max: number | null): number {
  for (const given of [y, u, min ?? 0, max ?? 0]) if (!Number.isFinite(given)) throw new RangeError(`not a finite number: ${given}`);
  const [low, high] = [min ?? -Infinity, max ?? Infinity];
  if (u < 0) throw new RangeError(`standard uncertainty is below 0: ${u}`);
  if (low > high) throw new RangeError(`limits are reversed: min ${low}, max ${high}`);
  if (u === 0) return y >= low && y <= high ? 1 : 0;
  const [fromMin, fromMax] = [(low - y) / u, (high - y) / u];
  // The difference of two tails keeps its digits; that of two numbers next to 1 loses them.
  return fromMin > 0 ? normalCdf(-fromMin, 0, 1) - normalCdf(-fromMax, 0, 1) : normalCdf(fromMax, 0, 1) - normalCdf(fromMin, 0, 1);
}
