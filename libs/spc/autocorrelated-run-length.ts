import { gaussLegendre } from './gauss-legendre.js';
import { solved } from './linear-system.js';

/** A chart of single values with the limits mean ± `multiple` σ, σ the true standard deviation of the values. */
export interface LimitsOfValues {
  readonly multiple: number;
  /** How far the mean of the process has moved, in σ, from the first value on. */
  readonly shift: number;
}

/** Nodes of the quadrature; half as many change nothing that a double shows (a test holds that). */
const NODES = 80;

/**
 * The mean number of values until one is beyond the limits, on a normal process in which each value follows from the one
 * before with the autocorrelation φ, its first value included. With the density of the next value y after x,
 *
 *     f(y | x) = φ((y − φ x)/√(1 − φ²))/√(1 − φ²),   L(x) = 1 + ∫ L(y) f(y | x) dy,   ARL = 1 + ∫ L(y) φ(y) dy
 *
 * between the limits, solved at the nodes of Gauss and Legendre. Kramer and Schmid, Statistical Papers 41 (2000), 173-196; the
 * method is that of Crowder, Technometrics 29 (1987), 401-407, from memory. Limits with 3 times a σ by moving ranges are
 * those with a multiple of 3 √(1 − φ). Throws RangeError when φ is not within ± 0.95 (the nodes are too few beyond), the
 * multiple is not between 0 and 5, or the shift is not within ± 10.
 */
export function autocorrelatedRunLength(phi: number, { multiple, shift }: LimitsOfValues, nodes = NODES): number {
  if (!(Math.abs(phi) <= 0.95)) throw new RangeError(`the autocorrelation is not within -0.95 and 0.95: ${phi}`);
  if (!(multiple > 0 && multiple <= 5)) throw new RangeError(`the multiple of σ is not between 0 and 5: ${multiple}`);
  if (!(Math.abs(shift) <= 10)) throw new RangeError(`the shift is not within -10 and 10: ${shift}`);
  const places = gaussLegendre(nodes, -multiple - shift, multiple - shift);
  const spread = Math.sqrt(1 - phi * phi);
  const rows = places.map(({ at: x }, row) => Float64Array.from(places, ({ at: y, weight }, column) =>
    Number(row === column) - (weight * density((y - phi * x) / spread)) / spread));
  const lengths = solved(rows, new Float64Array(places.length).fill(1));
  return places.reduce((sum, { at: y, weight }, index) => sum + weight * density(y) * (lengths[index] ?? NaN), 1);
}

const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
