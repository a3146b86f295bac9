import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * The range of m independent values from a standard normal distribution, by its definition as an integral. Both integrands
 * are smooth and vanish at either end, where the trapezoidal rule converges faster than any power of its step; a test holds
 * the results against 13 published digits.
 */

/** Nothing of the standard normal distribution that a double could show lies further out. */
const FAR = 9;
const STEP = 1 / 8;

/**
 * The mean of the range, d2 = ∫ 1 − Φ(x)^m − (1 − Φ(x))^m dx. The standard deviation of normal values is the mean of many
 * ranges over d2. Tippett, Biometrika 17 (1925), from memory. Throws RangeError when m is not a whole number of at least 2.
 */
export function meanRelativeRange(m: number): number {
  demandGroup(m);
  return integral((x) => 1 - normalCdf(x, 0, 1) ** m - normalCdf(-x, 0, 1) ** m, -FAR, FAR);
}

/**
 * The factor d2* for a single range (g = 1): the root of the mean square of the range, √(d2² + d3²). A range over d2* has the
 * variance of the values as its mean square. With the distribution function P(R ≤ w) the mean square is ∫ 2w P(R > w) dw over
 * w > 0, taken with w = e^t. Throws RangeError when m is not a whole number of at least 2.
 */
export function rootMeanSquareRelativeRange(m: number): number {
  demandGroup(m);
  const square = integral((t) => 2 * Math.exp(2 * t) * (1 - rangeCdf(Math.exp(t), m)), Math.log(1e-9), Math.log(2 * FAR));
  return Math.sqrt(square);
}

/** P(R ≤ w) = m ∫ φ(x) (Φ(x + w) − Φ(x))^(m − 1) dx. */
function rangeCdf(w: number, m: number): number {
  const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  return m * integral((x) => density(x) * (normalCdf(x + w, 0, 1) - normalCdf(x, 0, 1)) ** (m - 1), -FAR, FAR);
}

/** The trapezoidal rule; the ends count for nothing, since the integrand has vanished there. */
function integral(integrand: (x: number) => number, from: number, to: number): number {
  const count = Math.ceil((to - from) / STEP);
  let sum = 0;
  for (let index = 0; index <= count; index++) sum += integrand(from + index * STEP);
  return sum * STEP;
}

function demandGroup(m: number): void {
  if (!(Number.isSafeInteger(m) && m >= 2)) throw new RangeError(`a range is taken of at least 2 values: ${m}`);
}
