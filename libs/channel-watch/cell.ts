import { samplesOf, type Summary } from '#libs/signals';

/** A cell of level 1 of one go along the pipe, in the order in which its samples were read. */
export interface WatchedCell {
  readonly cellNo: number;
  /** Pipe that its samples speak for, whole mm. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly summary: Summary;
}

/** Fewer values say nothing of noise. Our own choice. */
const VALUES_AT_LEAST = 16;

/**
 * Noise of a cell: the sample standard deviation of its values about their own mean, in the unit of the channel, so that a slow
 * drift of the level is none. Null for fewer than 16 values that were read. Common practice, no published source.
 */
export function noiseOf({ n, squares }: Summary): number | null {
  return n < VALUES_AT_LEAST ? null : Math.sqrt(squares / (n - 1));
}

/** Whether all of a cell, some of it or none is missing. */
export function missingIn(summary: Summary): 'all' | 'some' | 'none' {
  const { missing } = summary.counts;
  return missing === 0 ? 'none' : missing === samplesOf(summary) ? 'all' : 'some';
}
