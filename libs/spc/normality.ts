import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { summaryOf } from './summary.js';

/** How well a normal distribution fits values, by the test of Anderson and Darling. */
export interface NormalityTest {
  /** The statistic A². */
  readonly statistic: number;
  /** A* = A² (1 + 0.75/n + 2.25/n²), which no longer depends on n. */
  readonly adjusted: number;
  /** The probability of so great a statistic, or a greater one, from normal values; approximate. */
  readonly p: number;
}

/** Beyond it the approximation of the probability would rise again; what it gives there is an upper bound of what lies beyond. */
const LAST_ADJUSTED = 10;

/**
 * The test of Anderson and Darling for normality, mean and standard deviation estimated from the values:
 *
 *     A² = −n − (1/n) Σ (2i − 1)(ln Φ(w(i)) + ln(1 − Φ(w(n + 1 − i)))),  w the values in rising order, less mean, over s
 *
 * Statistic, factor and the four branches of the probability: D'Agostino and Stephens, Goodness-of-Fit Techniques (1986), 4.8,
 * Table 4.9 (branches from memory). For independent values: neighbours that resemble each other make it reject too often.
 * Values read to coarse steps do so too. Throws RangeError with fewer than 8 values (for which the probability is not
 * given), when all are equal, or when one is not finite.
 */
export function andersonDarling(values: readonly number[]): NormalityTest {
  const { n, mean, standardDeviation } = summaryOf(values);
  if (n < 8) throw new RangeError(`a test of normality takes at least 8 values: ${n}`);
  if (standardDeviation === null || standardDeviation === 0) throw new RangeError('all values are equal: normality cannot be tested');
  const scaled = values.map((value) => (value - mean) / standardDeviation).sort((one, other) => one - other);
  const sum = scaled.reduce((total, w, index) => total + (2 * index + 1) * (logOfCdf(w) + logOfCdf(-(scaled[n - 1 - index] ?? NaN))), 0);
  const statistic = -n - sum / n;
  const adjusted = statistic * (1 + 0.75 / n + 2.25 / (n * n));
  return { statistic, adjusted, p: probability(Math.min(adjusted, LAST_ADJUSTED)) };
}

/** ln Φ(w); so far out that Φ(w) is no double any more, by the first terms of its asymptotic series. */
function logOfCdf(w: number): number {
  if (w > -30) return Math.log(normalCdf(w, 0, 1));
  const square = w * w;
  return -square / 2 - Math.log(-w * Math.sqrt(2 * Math.PI)) + Math.log1p(-1 / square + 3 / (square * square));
}

function probability(a: number): number {
  if (a < 0.2) return 1 - Math.exp(-13.436 + 101.14 * a - 223.73 * a * a);
  if (a < 0.34) return 1 - Math.exp(-8.318 + 42.796 * a - 59.938 * a * a);
  if (a < 0.6) return Math.exp(0.9177 - 4.279 * a - 1.38 * a * a);
  return Math.exp(1.2937 - 5.709 * a + 0.0186 * a * a);
}
