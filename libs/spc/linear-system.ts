/**
 * The solution of a system of linear equations, by elimination with the greatest element of a column as its pivot. The rows are
 * used up. Throws RangeError when the equations do not determine it.
 */
export function solved(rows: readonly Float64Array[], right: Float64Array): Float64Array {
  const n = rows.length;
  const order = [...rows];
  for (let column = 0; column < n; column++) {
    pivot(order, right, column);
    for (let row = column + 1; row < n; row++) eliminate(order, right, column, row);
  }
  for (let row = n - 1; row >= 0; row--) {
    const own = order[row] as Float64Array;
    let rest = right[row] ?? NaN;
    for (let column = row + 1; column < n; column++) rest -= (own[column] ?? NaN) * (right[column] ?? NaN);
    right[row] = rest / (own[row] ?? NaN);
  }
  return right;
}

function pivot(rows: Float64Array[], right: Float64Array, column: number): void {
  const size = (row: number): number => Math.abs(rows[row]?.[column] ?? NaN);
  let best = column;
  for (let row = column + 1; row < rows.length; row++) if (size(row) > size(best)) best = row;
  if (!(size(best) > 0)) throw new RangeError('the equations do not determine a solution');
  [rows[column], rows[best]] = [rows[best] as Float64Array, rows[column] as Float64Array];
  [right[column], right[best]] = [right[best] ?? NaN, right[column] ?? NaN];
}

function eliminate(rows: readonly Float64Array[], right: Float64Array, column: number, row: number): void {
  const [from, own] = [rows[column] as Float64Array, rows[row] as Float64Array];
  const factor = (own[column] ?? NaN) / (from[column] ?? NaN);
  if (factor === 0) return;
  for (let place = column; place < own.length; place++) own[place] = (own[place] ?? NaN) - factor * (from[place] ?? NaN);
  right[row] = (right[row] ?? NaN) - factor * (right[column] ?? NaN);
}
