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
  const places = gaussLegendre(nodes).map(({ x, weight }) => ({ y: multiple * x - shift, weight: multiple * weight }));
  const spread = Math.sqrt(1 - phi * phi);
  const matrix = places.map(({ y: from }, i) => places.map(({ y, weight }, j) =>
    (i === j ? 1 : 0) - (weight * density((y - phi * from) / spread)) / spread));
  const lengths = solved(matrix, places.map(() => 1));
  return places.reduce((sum, { y, weight }, index) => sum + weight * density(y) * (lengths[index] ?? NaN), 1);
}

/** Nodes and weights on −1 to 1: the zeros of the Legendre polynomial by Newton's steps (Abramowitz and Stegun 25.4.29). */
function gaussLegendre(count: number): { readonly x: number; readonly weight: number }[] {
  return Array.from({ length: count }, (_, index) => {
    let x = Math.cos((Math.PI * (index + 0.75)) / (count + 0.5));
    for (let step = 0; step < 10; step++) {
      const { value, slope } = legendre(count, x);
      x -= value / slope;
    }
    const { slope } = legendre(count, x);
    return { x, weight: 2 / ((1 - x * x) * slope * slope) };
  });
}

function legendre(count: number, x: number): { readonly value: number; readonly slope: number } {
  let [before, value] = [1, x];
  for (let k = 2; k <= count; k++) [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  return { value, slope: (count * (before - x * value)) / (1 - x * x) };
}

/** The solution of a system of linear equations, by elimination with the greatest pivot of each column. */
function solved(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, index) => [...row, right[index] ?? NaN]);
  rows.forEach((_, column) => {
    const pivot = rows.slice(column).reduce((best, row) => (Math.abs(cell(row, column)) > Math.abs(cell(best, column)) ? row : best));
    rows.splice(rows.indexOf(pivot, column), 1);
    rows.splice(column, 0, pivot);
    for (const row of rows.slice(column + 1)) {
      const factor = cell(row, column) / cell(pivot, column);
      for (let index = column; index < row.length; index++) row[index] = cell(row, index) - factor * cell(pivot, index);
    }
  });
  const found: number[] = [];
  for (const [index, row] of [...rows.entries()].reverse()) {
    const known = found.reduce((sum, value, place) => sum + value * cell(row, index + 1 + place), 0);
    found.unshift((cell(row, rows.length) - known) / cell(row, index));
  }
  return found;
}

const cell = (row: readonly number[], index: number): number => row[index] ?? NaN;
const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
