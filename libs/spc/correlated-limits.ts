import { summaryOf } from './summary.js';

/** Means of values that follow each other, so far apart as a whole that they hardly resemble each other any more. */
export interface BatchMeans {
  readonly size: number;
  readonly means: readonly number[];
  /** Values at the end that fill no batch; they are in no mean. */
  readonly leftOver: number;
}

/**
 * The means of consecutive batches of `size` values, in their order and unit. Batches with a lag-1 autocorrelation below
 * about 0.1 can be charted as individual values: Runger and Willemain, Journal of Quality Technology 28 (1996), 201-207, from
 * memory. Throws RangeError when the size is not a whole number of at least 1, fills no batch, or a value is not finite.
 */
export function batchMeans(values: readonly number[], size: number): BatchMeans {
  if (!(Number.isSafeInteger(size) && size >= 1)) throw new RangeError(`not the size of a batch: ${size}`);
  if (size > values.length) throw new RangeError(`${values.length} values fill no batch of ${size}`);
  const count = Math.floor(values.length / size);
  const means = Array.from({ length: count }, (_, index) => summaryOf(values.slice(index * size, (index + 1) * size)).mean);
  return { size, means, leftOver: values.length - count * size };
}

export interface CentredLimits {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Limits for single values by the standard deviation of all of them, in their unit: mean ± `multiple` × s. Neighbours that
 * resemble each other make moving ranges small and leave this spread as it is, as long as the values span many times the
 * length over which they do. Common practice, no published source. A slow drift widens them: they are for data in which a
 * person found none. Throws RangeError with fewer than 2 values, when one is not finite, or when the multiple
 * is not above 0.
 */
export function longTermLimits(values: readonly number[], multiple = 3): CentredLimits {
  if (!(multiple > 0 && multiple < Infinity)) throw new RangeError(`not a multiple of a standard deviation: ${multiple}`);
  const { mean, standardDeviation } = summaryOf(values);
  if (standardDeviation === null) throw new RangeError('a single value has no spread');
  return { centre: mean, lower: mean - multiple * standardDeviation, upper: mean + multiple * standardDeviation };
}
