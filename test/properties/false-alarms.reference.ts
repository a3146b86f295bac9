import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { controlChartFactors } from '#libs/spc';
import { normalNumbers } from '../fixtures/normal-numbers.js';

/** P(|z| > 3). */
export const BEYOND_3 = 2 * normalCdf(-3, 0, 1);

/** Draws of a stable process with a fixed seed, and what theory says of them, each from its definition. */
export class StableDraws {
  readonly normal: () => number;

  constructor(seed: number) {
    this.normal = normalNumbers(seed);
  }

  uniform(): number {
    return normalCdf(this.normal(), 0, 1);
  }

  normals(count: number): number[] {
    return Array.from({ length: count }, this.normal);
  }

  /** Of the mean 1. */
  exponential(): number {
    return -Math.log(this.uniform());
  }

  /** Good items before the first faulty one. */
  geometric(p: number): number {
    return Math.floor(-this.exponential() / Math.log1p(-p));
  }

  /** The least count up to which this much probability lies. */
  from(probabilities: readonly number[]): number {
    let rest = this.uniform();
    const found = probabilities.findIndex((probability) => (rest -= probability) < 0);
    return found === -1 ? probabilities.length - 1 : found;
  }
}

/** The probabilities of 0 to n faulty items. */
export function binomial(n: number, p: number): number[] {
  const probabilities = [(1 - p) ** n];
  for (let count = 0; count < n; count++) probabilities.push(probabilities[count]! * ((n - count) / (count + 1)) * (p / (1 - p)));
  return probabilities;
}

/** The probabilities of 0 to so many faults that more do not happen. */
export function poisson(mean: number): number[] {
  const probabilities = [Math.exp(-mean)];
  for (let count = 1; count < 4 * mean + 40; count++) probabilities.push(probabilities[count - 1]! * (mean / count));
  return probabilities;
}

/** The probability of a count more than three standard deviations from its mean: what is beyond the limits that it can be beyond. */
export function beyondThree(probabilities: readonly number[], mean: number, variance: number): number {
  return probabilities.reduce((sum, probability, count) => (Math.abs(count - mean) > 3 * Math.sqrt(variance) ? sum + probability : sum), 0);
}

/** Of a chart of deviations, and of one of ranges, of n values. */
export function deviationChance(n: number): number {
  const { B5, B6 } = controlChartFactors(n);
  const below = (limit: number): number => chiSquareCdf((n - 1) * limit * limit, n - 1);
  return below(B5) + 1 - below(B6);
}

export function rangeChance(n: number): number {
  const { D1, D2 } = controlChartFactors(n);
  return rangeAbove(D2, n) + 1 - rangeAbove(D1, n);
}

/** Of x^(1/3.6): a Weibull value with the mean Γ(1 + 1/k), whose mean difference of two is 2 (1 − 2^(−1/k)) times that. */
export function transformedChance(): number {
  const k = 3.6;
  const mean = simpson(0, 4, (y) => Math.exp(-(y ** k)));
  const sigma = (2 * mean * (1 - 2 ** (-1 / k))) / controlChartFactors(2).d2;
  return Math.exp(-((mean + 3 * sigma) ** k)) + 1 - Math.exp(-(Math.max(mean - 3 * sigma, 0) ** k));
}

/** Of the good items between faulty ones, beyond three standard deviations of the geometric distribution. */
export function geometricChance(p: number): number {
  const mean = (1 - p) / p;
  return (1 - p) ** (Math.floor(mean + 3 * Math.sqrt(mean * (mean + 1))) + 1);
}

/** Beyond whole limits: those below the least one, and those above the greatest. */
export function geometricTails(p: number): number {
  const quantile = (upperTail: number): number => Math.log(upperTail) / Math.log1p(-p);
  return 1 - (1 - p) ** Math.floor(quantile(1 - BEYOND_3 / 2)) + (1 - p) ** Math.ceil(quantile(BEYOND_3 / 2));
}

/** The probability that n normal values range over more than w: 1 − n ∫ φ(x) (Φ(x + w) − Φ(x))^(n − 1) dx, by Simpson's rule. */
function rangeAbove(w: number, n: number): number {
  const within = simpson(-9, 9, (x) => n * density(x) * (normalCdf(x + w, 0, 1) - normalCdf(x, 0, 1)) ** (n - 1));
  return 1 - within;
}

function simpson(from: number, to: number, of: (x: number) => number, steps = 2000): number {
  const width = (to - from) / steps;
  let sum = of(from) + of(to);
  for (let step = 1; step < steps; step++) sum += (step % 2 === 0 ? 2 : 4) * of(from + step * width);
  return (sum * width) / 3;
}

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
