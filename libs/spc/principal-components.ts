import type { Rows } from './multivariate.js';

/** One direction in which several characteristics vary together. */
export interface PrincipalComponent {
  /** The variance along it: an eigenvalue of the matrix. */
  readonly variance: number;
  /** Its share of all variance, 0 to 1. */
  readonly share: number;
  /** A unit vector, one weight a characteristic, the greatest of them above 0. */
  readonly weights: readonly number[];
}

/** Each sweep squares what is left beside the diagonal; matrices of any size that is measured take six to ten. */
const MOST_SWEEPS = 50;

/**
 * The principal components of a covariance or correlation matrix, by falling variance (NIST/SEMATECH e-Handbook of Statistical
 * Methods, 6.5.5): which characteristics move together when T² signals. Eigenvalues and eigenvectors are found by the rotations
 * of Jacobi (W. H. Press et al., Numerical Recipes, section 11.1, from memory). Throws RangeError when the matrix is not square
 * and symmetric, holds a value that is not finite, or has no variance.
 */
export function principalComponents(matrix: Rows): PrincipalComponent[] {
  demandSymmetric(matrix);
  const rest = matrix.map((row) => Float64Array.from(row));
  const vectors = matrix.map((_, row) => Float64Array.from(matrix, (_row, column) => Number(row === column)));
  const total = rest.reduce((sum, row, index) => sum + at(row, index), 0);
  if (!(total > 0)) throw new RangeError('what does not vary has no principal components');
  for (let sweep = 0; sweep < MOST_SWEEPS && besideDiagonal(rest) > total * Number.EPSILON ** 2; sweep++) {
    for (let p = 0; p < rest.length; p++) for (let q = p + 1; q < rest.length; q++) rotate(rest, vectors, p, q);
  }
  return rest.map((row, index) => {
    const variance = at(row, index);
    return { variance, share: variance / total, weights: upright(vectors.map((vector) => at(vector, index))) };
  }).sort((one, other) => other.variance - one.variance);
}

/** Turns the plane of two characteristics so that they are uncorrelated: the angle has the tangent t, the smaller one of two. */
function rotate(matrix: readonly Float64Array[], vectors: readonly Float64Array[], p: number, q: number): void {
  const [rowP, rowQ] = [matrix[p] as Float64Array, matrix[q] as Float64Array];
  if (at(rowP, q) === 0) return;
  const theta = (at(rowQ, q) - at(rowP, p)) / (2 * at(rowP, q));
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const cosine = 1 / Math.hypot(t, 1);
  const turn = (one: number, other: number): [number, number] => [cosine * (one - t * other), cosine * (t * one + other)];
  for (const row of [...matrix, ...vectors]) [row[p], row[q]] = turn(at(row, p), at(row, q));
  for (let column = 0; column < rowP.length; column++) [rowP[column], rowQ[column]] = turn(at(rowP, column), at(rowQ, column));
}

function besideDiagonal(matrix: readonly Float64Array[]): number {
  return Math.max(...matrix.map((row, index) => row.reduce((most, value, column) => (column === index ? most : Math.max(most, Math.abs(value))), 0)));
}

/** A direction and its opposite are one component. */
function upright(weights: readonly number[]): number[] {
  const greatest = weights.reduce((one, other) => (Math.abs(other) > Math.abs(one) ? other : one));
  return weights.map((weight) => (greatest < 0 ? -weight : weight));
}

function demandSymmetric(matrix: Rows): void {
  if (matrix.some((row) => row.length !== matrix.length || !row.every(Number.isFinite))) throw new RangeError('not a square matrix of finite values');
  if (matrix.some((row, i) => row.some((value, j) => value !== matrix[j]?.[i]))) throw new RangeError('the matrix is not symmetric');
}

const at = (row: Float64Array, index: number): number => row[index] ?? NaN;
