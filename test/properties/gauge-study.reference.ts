import { minus, over, plus, type Ratio, ratio, times } from '#libs/exact';

/** A study as whole numbers, `cells[part][appraiser][trial]`. */
export type Cells = readonly (readonly (readonly bigint[])[])[];

export interface Reference {
  readonly part: Ratio;
  readonly appraiser: Ratio;
  readonly interaction: Ratio;
  readonly repeatability: Ratio;
  readonly total: Ratio;
}

/**
 * The sums of squares by their definitions, as squared deviations of means that are summed reading by reading, in exact
 * arithmetic: slow, and nothing like the totals of the code under test.
 */
export function sumsByDeviations(cells: Cells): Reference {
  const all = meanOf(cells.flat(2));
  const ofPart = cells.map((row) => meanOf(row.flat()));
  const ofAppraiser = cells[0]!.map((_, j) => meanOf(cells.flatMap((row) => row[j]!)));
  const ofCell = cells.map((row) => row.map(meanOf));
  const sum = (deviation: (i: number, j: number, x: Ratio) => Ratio): Ratio => cells
    .flatMap((row, i) => row.flatMap((cell, j) => cell.map((x) => deviation(i, j, ratio(x)))))
    .map((one) => times(one, one)).reduce(plus);
  return {
    part: sum((i) => minus(ofPart[i]!, all)),
    appraiser: sum((_i, j) => minus(ofAppraiser[j]!, all)),
    interaction: sum((i, j) => plus(minus(minus(ofCell[i]![j]!, ofPart[i]!), ofAppraiser[j]!), all)),
    repeatability: sum((i, j, x) => minus(x, ofCell[i]![j]!)),
    total: sum((_i, _j, x) => minus(x, all)),
  };
}

/** The variance components of the random model, from what the mean squares are expected to be; not pooled, not cut at 0. */
export function componentsBySquares(cells: Cells, sums: Reference, isPooled: boolean): Omit<Reference, 'total'> {
  const [p, a, n] = [cells.length, cells[0]!.length, cells[0]![0]!.length];
  const mean = (sum: Ratio, degrees: number): Ratio => over(sum, ratio(BigInt(degrees)));
  const within = p * a * (n - 1);
  const crossed = (p - 1) * (a - 1);
  const repeatability = isPooled ? mean(plus(sums.repeatability, sums.interaction), within + crossed) : mean(sums.repeatability, within);
  // Expected: interaction e + n i, appraiser e + n i + pn a, part e + n i + an p.
  const interaction = isPooled ? ratio(0n) : mean(minus(mean(sums.interaction, crossed), repeatability), n);
  const shared = plus(repeatability, times(ratio(BigInt(n)), interaction));
  return {
    repeatability, interaction,
    appraiser: mean(minus(mean(sums.appraiser, a - 1), shared), p * n),
    part: mean(minus(mean(sums.part, p - 1), shared), a * n),
  };
}

export function meanOf(values: readonly bigint[]): Ratio {
  return over(values.map((value) => ratio(value)).reduce(plus), ratio(BigInt(values.length)));
}

export function rangeOf(values: readonly Ratio[]): Ratio {
  return values.flatMap((one) => values.map((other) => minus(one, other)))
    .reduce((most, difference) => (minus(difference, most).numerator > 0n ? difference : most));
}
