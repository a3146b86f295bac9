import { bracketedRoot } from './bracketed-root.js';
import { summaryOf } from './summary.js';

/** A first-order autoregressive process: y(t) − mean = phi (y(t − 1) − mean) + e(t), the e independent and normal. */
export interface Autoregression {
  readonly phi: number;
  readonly mean: number;
  /** Variance of the e, by maximum likelihood: the sum of squares over n. */
  readonly residualVariance: number;
  readonly phiStandardError: number;
  readonly meanStandardError: number;
  readonly logLikelihood: number;
  /** e(2) to e(n), in the unit of the values: what a chart of residuals shows. The first value has no residual. */
  readonly residuals: readonly number[];
}

/** All that the likelihood takes of the values, as differences d from their mean. */
interface Sums {
  readonly n: number;
  readonly first: number;
  /** Σ d(t), Σ d(t)² over t from 2 to n; Σ d(t − 1), Σ d(t − 1)² over the same; Σ d(t) d(t − 1). */
  readonly later: number;
  readonly laterSquares: number;
  readonly earlier: number;
  readonly earlierSquares: number;
  readonly products: number;
}

/**
 * The first-order autoregressive process under which the values are most likely. With
 *
 *     S = (1 − φ²)(y(1) − μ)² + Σ (y(t) − μ − φ (y(t − 1) − μ))²
 *
 * the logarithm of the likelihood is −n/2 (ln 2πσ² + 1) + ½ ln(1 − φ²) at σ² = S/n, and μ follows from φ (Box, Jenkins and
 * Reinsel, Time Series Analysis, A7.4; from memory). Standard errors are those of its curvature in φ and μ. φ is sought first
 * on a grid of hundredths and then by the derivative. Throws RangeError with fewer than 3 values, or when they are all equal
 * or one is not finite, and when they alternate between two: the nearer φ is to −1 the likelier they are then, without end.
 */
export function autoregression(values: readonly number[]): Autoregression {
  const { mean: centre, n, standardDeviation } = summaryOf(values);
  if (n < 3) throw new RangeError(`an autoregression is fitted to at least 3 values: ${n}`);
  const sums = sumsOf(values.map((value) => value - centre));
  if (standardDeviation === 0) throw new RangeError('all values are equal: an autoregression does not exist');
  if (values.every((value, index) => index < 2 || value === values[index - 2])) throw new RangeError('the values alternate between two: no autoregression is the likeliest');
  const phi = mostLikelyPhi(sums);
  const mu = meanAt(sums, phi);
  return {
    phi, mean: centre + mu, residualVariance: squaresAt(sums, phi, mu) / n, ...standardErrors(sums, phi, mu),
    logLikelihood: logLikelihoodAt(sums, phi), residuals: residualsOf(values, phi, centre + mu),
  };
}

/**
 * What a known process leaves of each value but the first: y(t) − mean − phi (y(t − 1) − mean), in the unit of the values.
 * A chart in use takes them by the phi and mean that were approved, never by those of the values shown.
 */
export function residualsOf(values: readonly number[], phi: number, mean: number): number[] {
  return values.slice(1).map((value, index) => value - mean - phi * ((values[index] ?? NaN) - mean));
}

/** A straight line by least squares through the pairs of each value and the one before it. */
export interface LagRegression {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptStandardError: number;
  readonly slopeStandardError: number;
  readonly residualStandardDeviation: number;
  readonly degreesOfFreedom: number;
}

/**
 * y(t) = intercept + slope y(t − 1) by least squares (NIST/SEMATECH e-Handbook of Statistical Methods, 1.4.2.3.3): a fit that
 * does not take the process for stationary, so that a slope near 1 shows one that wanders. Throws RangeError with fewer than
 * 4 values, or when all but the last are equal.
 */
export function lagRegression(values: readonly number[]): LagRegression {
  if (values.length < 4) throw new RangeError(`a regression on the value before takes at least 4 values: ${values.length}`);
  const [earlier, later] = [values.slice(0, -1), values.slice(1)];
  const [x, y] = [summaryOf(earlier), summaryOf(later)];
  const squares = sum(earlier, (value) => (value - x.mean) ** 2);
  if (squares === 0) throw new RangeError('all values before another are equal: a regression on them does not exist');
  const slope = sum(earlier, (value, index) => (value - x.mean) * ((later[index] ?? NaN) - y.mean)) / squares;
  const intercept = y.mean - slope * x.mean;
  const degreesOfFreedom = earlier.length - 2;
  const residualSquares = sum(earlier, (value, index) => ((later[index] ?? NaN) - y.mean - slope * (value - x.mean)) ** 2);
  const s = Math.sqrt(residualSquares / degreesOfFreedom);
  return {
    intercept, slope, degreesOfFreedom, residualStandardDeviation: s,
    slopeStandardError: s / Math.sqrt(squares),
    interceptStandardError: s * Math.sqrt(1 / earlier.length + (x.mean * x.mean) / squares),
  };
}

function sumsOf(d: readonly number[]): Sums {
  const [earlier, later] = [d.slice(0, -1), d.slice(1)];
  return {
    n: d.length, first: d[0] ?? NaN,
    later: sum(later, (value) => value), laterSquares: sum(later, (value) => value * value),
    earlier: sum(earlier, (value) => value), earlierSquares: sum(earlier, (value) => value * value),
    products: sum(earlier, (value, index) => value * (later[index] ?? NaN)),
  };
}

function mostLikelyPhi(sums: Sums): number {
  const slope = (phi: number): number => {
    const mu = meanAt(sums, phi);
    return (-sums.n / 2) * (squaresSlope(sums, phi, mu) / squaresAt(sums, phi, mu)) - phi / (1 - phi * phi);
  };
  let best = 0;
  for (let step = -99; step <= 99; step++) if (logLikelihoodAt(sums, step / 100) > logLikelihoodAt(sums, best)) best = step / 100;
  // The last steps before ±1, where the likelihood falls to nothing.
  const [from, to] = [Math.max(best - 0.01, -1 + 1e-12), Math.min(best + 0.01, 1 - 1e-12)];
  return bracketedRoot(slope, from, to);
}

/** The mean that makes S least at this φ. */
function meanAt({ n, first, later, earlier }: Sums, phi: number): number {
  return ((1 + phi) * first + later - phi * earlier) / (1 + phi + (n - 1) * (1 - phi));
}

/** The sums about μ that S is made of: of the first value, the later and earlier squares, and the products. */
function about(sums: Sums, mu: number): { first: number; laterSquares: number; earlierSquares: number; products: number } {
  const pairs = sums.n - 1;
  return {
    first: (sums.first - mu) ** 2,
    laterSquares: sums.laterSquares - 2 * mu * sums.later + pairs * mu * mu,
    earlierSquares: sums.earlierSquares - 2 * mu * sums.earlier + pairs * mu * mu,
    products: sums.products - mu * (sums.later + sums.earlier) + pairs * mu * mu,
  };
}

function squaresAt(sums: Sums, phi: number, mu: number): number {
  const { first, laterSquares, earlierSquares, products } = about(sums, mu);
  return (1 - phi * phi) * first + laterSquares - 2 * phi * products + phi * phi * earlierSquares;
}

function squaresSlope(sums: Sums, phi: number, mu: number): number {
  const { first, earlierSquares, products } = about(sums, mu);
  return -2 * phi * first - 2 * products + 2 * phi * earlierSquares;
}

function logLikelihoodAt(sums: Sums, phi: number): number {
  const variance = squaresAt(sums, phi, meanAt(sums, phi)) / sums.n;
  return (-sums.n / 2) * (Math.log(2 * Math.PI * variance) + 1) + Math.log1p(-phi * phi) / 2;
}

/** From the curvature of −ln likelihood with σ² following from φ and μ; S does not slope in μ where μ is best. */
function standardErrors(sums: Sums, phi: number, mu: number): { phiStandardError: number; meanStandardError: number } {
  const { n } = sums;
  const { first, earlierSquares } = about(sums, mu);
  const squares = squaresAt(sums, phi, mu);
  const rest = 1 - phi * phi;
  const relativeSlope = squaresSlope(sums, phi, mu) / squares;
  const inPhi = (n / 2) * ((2 * earlierSquares - 2 * first) / squares - relativeSlope ** 2) + (1 + phi * phi) / (rest * rest);
  const inMu = ((n / 2) * (2 * rest + 2 * (n - 1) * (1 - phi) ** 2)) / squares;
  const mixed = ((n / 2) * (4 * phi * (sums.first - mu) + 2 * (sums.later + sums.earlier) - 4 * (n - 1) * mu
    - 4 * phi * (sums.earlier - (n - 1) * mu))) / squares;
  const determinant = inPhi * inMu - mixed * mixed;
  return { phiStandardError: Math.sqrt(inMu / determinant), meanStandardError: Math.sqrt(inPhi / determinant) };
}

function sum(values: readonly number[], term: (value: number, index: number) => number): number {
  return values.reduce((total, value, index) => total + term(value, index), 0);
}
