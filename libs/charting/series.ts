/** One point of a row that is to be charted, in the order of the row. */
export interface SeriesPoint {
  /**
   * Subgroups and values: its readings, in the unit of the characteristic. Shares and rates: the count alone. Gaps: the gap
   * alone, above 0. Vectors: one reading of each channel, always in one order.
   */
  readonly values: readonly number[];
  /** Shares: of how many items. Rates: in what length or other opportunity. Null of the others. */
  readonly of: number | null;
  /** Something else began before it, as after a splice, a stop, a change of set-up or a check: no pattern reaches across. */
  readonly beginsAnew: boolean;
}

/** The mean of its readings, over differences from the first, so that a large common part costs no digits. */
export function meanOf({ values }: Pick<SeriesPoint, 'values'>): number {
  const first = values[0] ?? NaN;
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
}

/** What was counted, and of how much. Throws RangeError when the opportunity is not said. */
export function countedOf({ values, of }: SeriesPoint): { readonly count: number; readonly of: number } {
  if (of === null) throw new RangeError('a count without what it is of');
  return { count: values[0] ?? NaN, of };
}

/** The numbers, from 1, of the points before which something else began. */
export const beginningsOf = (series: readonly Pick<SeriesPoint, 'beginsAnew'>[]): number[] => series.flatMap(({ beginsAnew }, index) => (beginsAnew ? [index + 1] : []));

/** Points in a row that make one. */
export interface Batch {
  readonly from: number;
  readonly to: number;
  readonly mean: number;
  readonly beginsAnew: boolean;
}

/** Batches of so many points in a row, none across a beginning; points at the end of a stretch that fill none are in none. */
export function batchesOf(series: readonly SeriesPoint[], size: number): Batch[] {
  const batches: Batch[] = [];
  let [from, beginsAnew] = [0, false];
  series.forEach((point, to) => {
    if (point.beginsAnew) [from, beginsAnew] = [to, true];
    if (to - from + 1 < size) return;
    batches.push({ from, to, mean: meanOf({ values: series.slice(from, to + 1).map(meanOf) }), beginsAnew });
    [from, beginsAnew] = [to + 1, false];
  });
  return batches;
}

/** Pairs of neighbours with no beginning between them: each value with the one before it. */
export const neighboursOf = (values: readonly number[], series: readonly Pick<SeriesPoint, 'beginsAnew'>[]): (readonly [number, number])[] =>
  values.flatMap((value, index) => (index === 0 || series[index]?.beginsAnew === true ? [] : [[values[index - 1] ?? NaN, value] as const]));

/** The points that count; what was beside one that does not is no neighbour of what comes after it. @param out by their places in the row, from 0 */
export const withoutPoints = <P extends Pick<SeriesPoint, 'beginsAnew'>>(series: readonly P[], out: ReadonlySet<number>): P[] =>
  series.flatMap((point, index) => (out.has(index) ? [] : [out.has(index - 1) ? { ...point, beginsAnew: true } : point]));
