/**
 * What the limits of a chart stand on: all that a point is compared with later, and nothing of the row that it was found from. It
 * can be stored, and gives the same limits for ever. In the unit of the characteristic.
 */
export type ChartLimits =
  /** The standard deviation is that within subgroups. */
  | { readonly chart: 'mean-range' | 'mean-deviation'; readonly mean: number; readonly sigma: number }
  /** That within subgroups, and that of their means by moving ranges. */
  | { readonly chart: 'between-within'; readonly mean: number; readonly sigmaWithin: number; readonly sigmaMeans: number }
  /** By moving ranges, or of batch means by their moving ranges; of `long-term` that of all values. */
  | { readonly chart: 'individuals' | 'long-term' | 'batch-means'; readonly mean: number; readonly sigma: number }
  /** Of what is left of each value by the one before it. */
  | { readonly chart: 'residuals'; readonly mean: number; readonly phi: number; readonly sigma: number }
  /** The standard deviation of one plotted value. */
  | { readonly chart: 'ewma' | 'cusum'; readonly mean: number; readonly sigma: number }
  | { readonly chart: 'p' | 'np' | 'c' | 'u'; readonly rate: number }
  | { readonly chart: 'adjusted-p' | 'adjusted-u'; readonly rate: number; readonly sigmaZ: number }
  /** The mean gap. */
  | { readonly chart: 't' | 'g'; readonly mean: number }
  /** Of `rows` single rows. */
  | { readonly chart: 't-squared'; readonly means: readonly number[]; readonly covariance: readonly (readonly number[])[]; readonly rows: number };
