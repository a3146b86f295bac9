import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import { summaryOf } from './summary.js';

/** Several characteristics that were measured together: one row a moment, one value a characteristic, always in one order. */
export type Rows = readonly (readonly number[])[];

export interface MeanAndCovariance {
  readonly mean: readonly number[];
  /** With n − 1; in the products of the units. */
  readonly covariance: Rows;
}

/**
 * Mean and covariance matrix of the rows (NIST/SEMATECH e-Handbook of Statistical Methods, 6.5.4.1). Throws RangeError with
 * fewer than 2 rows, rows of different lengths or of none, and values that are not finite.
 */
export function meanAndCovariance(rows: Rows): MeanAndCovariance {
  const [first] = rows;
  if (first === undefined || rows.length < 2) throw new RangeError(`a covariance is taken of at least 2 rows: ${rows.length}`);
  if (first.length === 0 || rows.some((row) => row.length !== first.length)) throw new RangeError('rows must hold the same characteristics');
  const columns = first.map((_, index) => rows.map((row) => cell(row, index)));
  const mean = columns.map((column) => summaryOf(column).mean);
  const differences = columns.map((column, index) => column.map((value) => value - cell(mean, index)));
  const covariance = differences.map((one) => differences.map((other) =>
    one.reduce((sum, value, index) => sum + value * cell(other, index), 0) / (rows.length - 1)));
  return { mean, covariance };
}

/**
 * The correlation matrix that belongs to a covariance matrix. Throws RangeError when a variance is not above 0: what does not
 * vary has no correlation.
 */
export function correlationOf(covariance: Rows): Rows {
  const deviations = covariance.map((row, index) => Math.sqrt(cell(row, index)));
  if (!deviations.every((deviation) => deviation > 0)) throw new RangeError('a characteristic that does not vary has no correlation');
  return covariance.map((row, i) => row.map((value, j) => (i === j ? 1 : value / (cell(deviations, i) * cell(deviations, j)))));
}

/** Of one subgroup: how many rows it has, with their mean and covariance matrix. */
export interface SubgroupMoments extends MeanAndCovariance {
  readonly n: number;
}

/**
 * The mean of subgroup means and the mean of subgroup covariances: what a chart of subgroups compares with. Subgroups have one
 * size. Throws RangeError with fewer than 2 subgroups, or ones of different sizes or characteristics.
 */
export function pooledSubgroups(subgroups: readonly SubgroupMoments[]): MeanAndCovariance {
  const [first] = subgroups;
  if (first === undefined || subgroups.length < 2) throw new RangeError(`limits are found from at least 2 subgroups: ${subgroups.length}`);
  if (subgroups.some(({ n, mean }) => n !== first.n || mean.length !== first.mean.length)) {
    throw new RangeError('subgroups must be of one size and hold the same characteristics');
  }
  const average = (of: (group: SubgroupMoments) => number): number => summaryOf(subgroups.map(of)).mean;
  return {
    mean: first.mean.map((_, index) => average(({ mean }) => cell(mean, index))),
    covariance: first.mean.map((_, i) => first.mean.map((_other, j) => average(({ covariance }) => cell(covariance[i] ?? [], j)))),
  };
}

/**
 * Hotelling's T² of a mean of n rows, n (x − mean)ᵀ S⁻¹ (x − mean); of a single row with n = 1. It has no unit, and does not
 * depend on the units of the characteristics. Montgomery, Introduction to Statistical Quality Control, eq. 11.19 and 11.22.
 * The system is solved by the factors of Cholesky. Throws RangeError when the characteristics do not fit each other or one of
 * them follows from the others, so that the covariance matrix has no inverse.
 */
export function hotellingT2(x: readonly number[], { mean, covariance }: MeanAndCovariance, n = 1): number {
  if (x.length !== mean.length || covariance.length !== mean.length) throw new RangeError('rows must hold the same characteristics');
  if (!x.every(Number.isFinite)) throw new RangeError('not a finite value among the characteristics');
  const factor = choleskyOf(covariance);
  const solved: number[] = [];
  for (const [index, row] of factor.entries()) {
    const rest = solved.reduce((sum, value, column) => sum + value * cell(row, column), 0);
    solved.push((cell(x, index) - cell(mean, index) - rest) / cell(row, index));
  }
  return n * solved.reduce((sum, value) => sum + value * value, 0);
}

/** A pivot below this share of its variance is what rounding left of 0. */
const LEAST_PIVOT = 1e-12;

function choleskyOf(matrix: Rows): number[][] {
  const factor: number[][] = [];
  for (const [i, row] of matrix.entries()) {
    const own: number[] = [];
    for (let j = 0; j <= i; j++) {
      const known = own.reduce((sum, value, column) => (column < j ? sum + value * cell(factor[j] ?? own, column) : sum), 0);
      const rest = cell(row, j) - known;
      if (i === j && !(rest > LEAST_PIVOT * cell(row, i))) throw new RangeError('a characteristic follows from the others or does not vary: no T² exists');
      own.push(i === j ? Math.sqrt(rest) : rest / cell(factor[j] ?? [], j));
    }
    factor.push(own);
  }
  return factor;
}

/** Of a chart that limits are found for: m subgroups or rows, p characteristics, the share `alpha` of false alarms. */
export interface T2Design {
  readonly characteristics: number;
  readonly alpha: number;
}

/** The upper limits of T²; there is no lower one. */
export interface T2Limits {
  /** For the very subgroups or rows that mean and covariance were found from. */
  readonly phase1: number;
  /** For later ones. */
  readonly phase2: number;
  /** For a mean and covariance that are known, or found from very many: the quantile of chi squared. */
  readonly known: number;
}

/**
 * Limits for m subgroups of n rows, with F of p and m n − m − p + 1 degrees at 1 − alpha:
 *
 *     phase I: p (m − 1)(n − 1)/(m n − m − p + 1) F      phase II: p (m + 1)(n − 1)/(m n − m − p + 1) F
 *
 * Montgomery, Introduction to Statistical Quality Control, eq. 11.20 and 11.21; Alt (1985). Throws RangeError when m or n is
 * not a whole number of at least 2, when there are too few rows for the characteristics, or alpha is not between 0 and 1.
 */
export function t2SubgroupLimits(m: number, n: number, { characteristics: p, alpha }: T2Design): T2Limits {
  demandDesign(m, p, alpha);
  demandWhole(n, 2, 'not the size of a subgroup');
  const degrees = m * n - m - p + 1;
  if (degrees < 1) throw new RangeError(`${m} subgroups of ${n} are too few for ${p} characteristics`);
  const scale = (p * (n - 1) * fQuantile(1 - alpha, p, degrees)) / degrees;
  return { phase1: scale * (m - 1), phase2: scale * (m + 1), known: chiSquareQuantile(1 - alpha, p) };
}

/**
 * Limits for m single rows:
 *
 *     phase I: (m − 1)²/m B,  B the quantile of the beta distribution of p/2 and (m − p − 1)/2
 *     phase II: p (m + 1)(m − 1)/(m (m − p)) F,  F of p and m − p degrees
 *
 * Tracy, Young and Mason, Journal of Quality Technology 24 (1992), 88-95; Montgomery, Introduction to Statistical Quality
 * Control, eq. 11.24 and 11.23. With the covariance of all rows: a drift among them widens it. Throws RangeError as
 * `t2SubgroupLimits` does.
 */
export function t2IndividualLimits(m: number, { characteristics: p, alpha }: T2Design): T2Limits {
  demandDesign(m, p, alpha);
  if (m < p + 2) throw new RangeError(`${m} rows are too few for ${p} characteristics`);
  return {
    phase1: ((m - 1) ** 2 / m) * betaQuantile(1 - alpha, p / 2, (m - p - 1) / 2),
    phase2: ((p * (m + 1) * (m - 1)) / (m * (m - p))) * fQuantile(1 - alpha, p, m - p),
    known: chiSquareQuantile(1 - alpha, p),
  };
}

function demandDesign(m: number, p: number, alpha: number): void {
  demandWhole(m, 2, 'not a number of subgroups or rows');
  demandWhole(p, 1, 'not a number of characteristics');
  if (!(alpha > 0 && alpha < 1)) throw new RangeError(`the share of false alarms is not between 0 and 1: ${alpha}`);
}

function demandWhole(value: number, least: number, what: string): void {
  if (!(Number.isSafeInteger(value) && value >= least)) throw new RangeError(`${what}: ${value}`);
}

const cell = (row: readonly number[], index: number): number => row[index] ?? NaN;
