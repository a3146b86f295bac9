import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import { bracketedRoot } from './bracketed-root.js';
import { demandConfidence } from './confidence.js';
import { summaryOf } from './summary.js';

/** A power under which values are most nearly normal. */
export interface PowerTransformation {
  readonly lambda: number;
  readonly logLikelihood: number;
  /** Confidence interval of lambda, approximate; null on a side on which none ends within ± MOST_LAMBDA. */
  readonly interval: { readonly from: number | null; readonly to: number | null };
}

/** Powers beyond it are no use: what they make of values is their greatest or their least one. */
const MOST_LAMBDA = 20;

/**
 * The value transformed: (x^λ − 1)/λ, and ln x at λ = 0. Box and Cox, Journal of the Royal Statistical Society B 26 (1964),
 * 211-252; NIST/SEMATECH e-Handbook of Statistical Methods, 6.5.2. It rises with x. Throws RangeError when x is not above 0.
 */
export function boxCox(x: number, lambda: number): number {
  if (!(x > 0 && x < Infinity)) throw new RangeError(`a power transformation is for values above 0: ${x}`);
  const log = Math.log(x);
  return lambda === 0 ? log : Math.expm1(lambda * log) / lambda;
}

/** The value that `boxCox` transforms to `y`; null where there is none (λ y at −1 or below). */
export function boxCoxInverse(y: number, lambda: number): number | null {
  if (lambda === 0) return Math.exp(y);
  return lambda * y <= -1 ? null : Math.exp(Math.log1p(lambda * y) / lambda);
}

/**
 * The logarithm of the likelihood of λ, but for a constant: −(n/2) ln(mean square deviation of the transformed values)
 * + (λ − 1) Σ ln x. Throws RangeError with fewer than 2 values, when they are all equal, or when one is not above 0.
 */
export function boxCoxLogLikelihood(values: readonly number[], lambda: number): number {
  demandDifferent(values);
  const { n, standardDeviation } = summaryOf(values.map((value) => boxCox(value, lambda)));
  const logs = values.reduce((sum, value) => sum + Math.log(value), 0);
  return (-n / 2) * Math.log(((standardDeviation ?? NaN) ** 2 * (n - 1)) / n) + (lambda - 1) * logs;
}

/**
 * The power λ that makes the values most likely as transformed normal ones, within ± 20, and its interval: all λ whose
 * logarithm of the likelihood is at most half the quantile of chi squared with one degree below the greatest (Box and Cox
 * 1964). Values that are far from 0 for their spread say little about λ, and the interval is wide then. Throws RangeError as
 * `boxCoxLogLikelihood` does, when the likelihood still rises at ± 20, and when the confidence is not between 0 and 1.
 */
export function bestBoxCox(values: readonly number[], confidence = 0.95): PowerTransformation {
  demandConfidence(confidence);
  demandDifferent(values);
  const n = values.length;
  const logs = values.map((value) => boxCox(value, 0));
  const { mean: logOfMean } = summaryOf(logs);
  // The power does not depend on the unit: over their geometric mean the values stay near 1 whatever the power, and the
  // logarithms sum to 0.
  const scaled = Float64Array.from(logs, (log) => log - logOfMean);
  const likelihood = (lambda: number): number => (-n / 2) * Math.log(momentsAt(scaled, lambda).squares / n);
  const lambda = bracketedRoot((at) => slopeOf(momentsAt(scaled, at)), -MOST_LAMBDA, MOST_LAMBDA);
  const most = likelihood(lambda);
  const least = most - chiSquareQuantile(confidence, 1) / 2;
  const end = (far: number): number | null => (likelihood(far) > least ? null : bracketedRoot((at) => likelihood(at) - least, lambda, far));
  return { lambda, logLikelihood: most - n * logOfMean, interval: { from: end(-MOST_LAMBDA), to: end(MOST_LAMBDA) } };
}

/** Σ (y − mean)² of the transformed values, and Σ (y − mean) y′ with their derivatives by λ. */
interface Moments {
  readonly squares: number;
  readonly products: number;
}

/** The sign of the derivative of the likelihood by λ, −n Σ (y − mean) y′/Σ (y − mean)², where the logarithms sum to 0. */
const slopeOf = ({ products, squares }: Moments): number => -products / squares;

/** One pass to transform and one to sum, without an object a value: a search takes some fifty of them. */
function momentsAt(logs: Float64Array, lambda: number): Moments {
  let sum = 0;
  const transformed = new Float64Array(logs.length);
  for (let index = 0; index < logs.length; index++) {
    const log = logs[index] ?? NaN;
    const y = lambda === 0 ? log : Math.expm1(lambda * log) / lambda;
    transformed[index] = y;
    sum += y;
  }
  const mean = sum / logs.length;
  let [squares, products] = [0, 0];
  for (let index = 0; index < logs.length; index++) {
    const difference = (transformed[index] ?? NaN) - mean;
    squares += difference * difference;
    products += difference * derivative(logs[index] ?? NaN, lambda);
  }
  return { squares, products };
}

/**
 * The derivative of a transformed value by λ, (x^λ ln x − y)/λ, and (ln x)²/2 at λ = 0. Near 0 it is taken as a series: the
 * difference would lose its digits.
 */
function derivative(log: number, lambda: number): number {
  const t = lambda * log;
  // (t e^t − e^t + 1)/t² = 1/2 + t/3 + t²/8 + t³/30 + …
  const shape = Math.abs(t) < 1e-3 ? 1 / 2 + t / 3 + (t * t) / 8 + (t * t * t) / 30 : (t * Math.exp(t) - Math.expm1(t)) / (t * t);
  return log * log * shape;
}

function demandDifferent(values: readonly number[]): void {
  if (new Set(values).size < 2) throw new RangeError('values that do not differ have no best power');
}
