import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf';
import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { bracketedRoot } from './bracketed-root.js';
import { demandConfidence } from './confidence.js';

/**
 * Factors k by which mean ± k s of n independent normal values holds a share of the whole distribution (the content), with a
 * confidence. s has n − 1 degrees of freedom. Two-sided factors by different methods differ in the second or third figure:
 * whoever prints one names its method.
 */
export type TwoSidedMethod = 'exact' | 'howe' | 'wald-wolfowitz';

/** Nothing of the standard normal distribution that a double could show lies further out. */
const FAR = 9;
/** Steps of the trapezoidal rule over means and over standard deviations; tests hold the factors against 20 digits. */
const MEAN_STEPS = 90;
const SPREAD_STEPS = 400;

/** A factor beyond it is of no use, and its digits would be those of rounding. */
const MOST_FACTOR = 1e6;

/**
 * The exact one-sided factor: mean − k s, or mean + k s, has at least the share `content` on its inner side with this
 * confidence. It is the quantile of the noncentral t distribution with n − 1 degrees and noncentrality z √n, over √n
 * (NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3; ISO 16269-6), found here from the distribution's definition:
 *
 *     P(mean + k s ≥ μ + z σ) = ∫ Φ(√n (k s − z)) dF(s) = confidence
 *
 * Throws RangeError when n is not a whole number of at least 2, content or confidence is not between 0 and 1, or the factor is
 * above a million.
 */
export function oneSidedToleranceFactor(n: number, content: number, confidence: number): number {
  demandSense(n, content, confidence);
  const [z, weights] = [normalQuantile(content, 0, 1), spreadWeights(n - 1)];
  const reached = (k: number): number => weights.reduce((sum, { s, weight }) => sum + weight * normalCdf(Math.sqrt(n) * (k * s - z), 0, 1), 0);
  return factorBetween((k) => reached(k) - confidence, -1, 1);
}

/**
 * The one-sided factor by a normal approximation: Natrella, Experimental Statistics (1963), as in NIST/SEMATECH e-Handbook of
 * Statistical Methods, 7.2.6.3. Throws RangeError as `oneSidedToleranceFactor` does, and where the approximation has no value.
 */
export function oneSidedToleranceFactorByNormal(n: number, content: number, confidence: number): number {
  demandSense(n, content, confidence);
  const [z, zc] = [normalQuantile(content, 0, 1), normalQuantile(confidence, 0, 1)];
  const a = 1 - (zc * zc) / (2 * (n - 1));
  if (!(a > 0)) throw new RangeError(`the approximation does not hold for so few values at this confidence: ${n}`);
  const b = z * z - (zc * zc) / n;
  return (z + Math.sqrt(z * z - a * b)) / a;
}

/**
 * The two-sided factor: mean ± k s holds at least the share `content` with this confidence.
 *
 * - exact: the share within mean ± k s depends on how far the mean of the values is off. It is k for which
 *   P = ∫ P(χ²(n − 1) ≥ (n − 1) r²/k²) dΦ(√n x) with Φ(x + r) − Φ(x − r) = content. Odeh and Owen, Tables for Normal Tolerance
 *   Limits (1980), Table 3.4; ISO 16269-6.
 * - howe: z √((n − 1)(1 + 1/n)/χ²). Howe, Journal of the American Statistical Association 64 (1969), 610-620; NIST/SEMATECH
 *   e-Handbook of Statistical Methods, 7.2.6.3.
 * - wald-wolfowitz: r √((n − 1)/χ²) with Φ(1/√n + r) − Φ(1/√n − r) = content. Annals of Mathematical Statistics 17 (1946),
 *   208-215; the factors of Bowker's tables.
 *
 * Throws RangeError as `oneSidedToleranceFactor` does.
 */
export function twoSidedToleranceFactor(n: number, content: number, confidence: number, method: TwoSidedMethod): number {
  demandSense(n, content, confidence);
  const degrees = n - 1;
  const lowChi = (): number => chiSquareQuantile(1 - confidence, degrees);
  switch (method) {
    case 'exact': return exactTwoSided(n, content, confidence);
    case 'howe': return normalQuantile((1 + content) / 2, 0, 1) * Math.sqrt((degrees * (1 + 1 / n)) / lowChi());
    case 'wald-wolfowitz': return halfWidth(1 / Math.sqrt(n), content) * Math.sqrt(degrees / lowChi());
  }
}

/** The trapezoidal rule over the mean of the values: its integrand is smooth and vanishes at either end. */
function exactTwoSided(n: number, content: number, confidence: number): number {
  const degrees = n - 1;
  const step = FAR / MEAN_STEPS;
  const places = Array.from({ length: MEAN_STEPS + 1 }, (_, index) => {
    const z = index * step;
    // Both signs of z have the same width: one half, with double weight but at 0.
    return { r: halfWidth(z / Math.sqrt(n), content), weight: (index === 0 ? 1 : 2) * step * density(z) };
  });
  const reached = (k: number): number =>
    places.reduce((sum, { r, weight }) => sum + weight * (1 - chiSquareCdf((degrees * r * r) / (k * k), degrees)), 0);
  return factorBetween((k) => reached(k) - confidence, 0, 1);
}

/** The r for which a standard normal value is within x ± r in the share `content`. */
function halfWidth(x: number, content: number): number {
  const within = (r: number): number => normalCdf(x + r, 0, 1) - normalCdf(x - r, 0, 1) - content;
  return bracketedRoot(within, 0, Math.abs(x) + FAR);
}

/**
 * Places s of a standard deviation with these degrees of freedom (σ = 1), and the probability that each stands for: the density
 * of ln s, which vanishes at either end, by the trapezoidal rule.
 */
function spreadWeights(degrees: number): { readonly s: number; readonly weight: number }[] {
  // The density of t = ln s is proportional to exp(ν (t − e^(2t)/2)), greatest at 0; where it is 1e-20 of that, it is left.
  const log = (t: number): number => degrees * (t + 0.5 - Math.exp(2 * t) / 2);
  const low = bracketedRoot((t) => log(t) + 46, -48 / degrees - 1, 0);
  const high = bracketedRoot((t) => log(t) + 46, 0, 3);
  const places = Array.from({ length: SPREAD_STEPS + 1 }, (_, index) => {
    const t = low + ((high - low) * index) / SPREAD_STEPS;
    return { s: Math.exp(t), weight: Math.exp(log(t)) };
  });
  const all = places.reduce((sum, { weight }) => sum + weight, 0);
  return places.map(({ s, weight }) => ({ s, weight: weight / all }));
}

/** The root of what rises with k, from a first bracket that is doubled until it holds the root. */
function factorBetween(f: (k: number) => number, low: number, high: number): number {
  let [from, to] = [low, high];
  while (to < MOST_FACTOR && f(to) < 0) to *= 2;
  while (from < 0 && from > -MOST_FACTOR && f(from) > 0) from *= 2;
  if (f(to) < 0 || f(from) > 0) throw new RangeError('the tolerance factor is out of reach: above a million');
  return bracketedRoot(f, from, to);
}

const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

function demandSense(n: number, content: number, confidence: number): void {
  if (!(Number.isSafeInteger(n) && n >= 2)) throw new RangeError(`n is not a whole number of at least 2: ${n}`);
  if (!(content > 0 && content < 1)) throw new RangeError(`the content is not between 0 and 1: ${content}`);
  demandConfidence(confidence);
}
