import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { gaussLegendre } from './gauss-legendre.js';

/**
 * The range of m independent values from a standard normal distribution, by its definition as an integral. Along the values
 * the integrands are smooth and vanish at either end, where the trapezoidal rule converges faster than any power of its step;
 * along the range they begin at 0, and Gauss's rule is taken. A test holds the results against 13 published digits.
 */

/** Nothing of the standard normal distribution that a double could show lies further out. */
const FAR = 9;
const STEP = 1 / 16;
/** Values, the density and the distribution there. */
const GRID = Array.from({ length: 2 * FAR / STEP + 1 }, (_, index) => {
  const x = index * STEP - FAR;
  return { x, weight: (STEP * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI), below: normalCdf(x, 0, 1), above: normalCdf(-x, 0, 1) };
});

/** Ranges up to twice as far, in parts that a distribution of the range changes little within. */
const PARTS = 12;
const RANGES = Array.from({ length: PARTS }, (_, part) => gaussLegendre(20, (2 * FAR * part) / PARTS, (2 * FAR * (part + 1)) / PARTS)).flat();

/**
 * The mean of the range, d2 = ∫ 1 − Φ(x)^m − (1 − Φ(x))^m dx. The standard deviation of normal values is the mean of many
 * ranges over d2. Tippett, Biometrika 17 (1925), from memory. Throws RangeError when m is not a whole number of at least 2.
 */
export function meanRelativeRange(m: number): number {
  demandGroup(m);
  return STEP * GRID.reduce((sum, { below, above }) => sum + (1 - below ** m - above ** m), 0);
}

/**
 * The factor d2* for a single range (g = 1): the root of the mean square of the range, √(d2² + d3²). A range over d2* has the
 * variance of the values as its mean square. With the distribution function P(R ≤ w) the mean square is ∫ 2w P(R > w) dw over
 * w > 0. Throws RangeError when m is not a whole number of at least 2.
 */
export function rootMeanSquareRelativeRange(m: number): number {
  demandGroup(m);
  return Math.sqrt(RANGES.reduce((sum, { at, weight }) => sum + weight * 2 * at * (1 - rangeCdf(at, m)), 0));
}

/** P(R ≤ w) = m ∫ φ(x) (Φ(x + w) − Φ(x))^(m − 1) dx. */
function rangeCdf(w: number, m: number): number {
  return m * GRID.reduce((sum, { x, weight, below }) => sum + weight * (normalCdf(x + w, 0, 1) - below) ** (m - 1), 0);
}

function demandGroup(m: number): void {
  if (!(Number.isSafeInteger(m) && m >= 2)) throw new RangeError(`a range is taken of at least 2 values: ${m}`);
}
