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
