import type { Interval } from '#libs/intervals';

/** What an indication meets at an end: signal below the release level, or where nothing is known and it may go on. */
export type Edge = 'signal' | 'gap' | 'exclusion' | 'end-of-data';

export interface Peak {
  /** The greatest value beyond the threshold's side (the least one for `below`), in the channel's unit. */
  readonly value: number;
  /** Footage of the first sample with it. */
  readonly atMm: number;
  /** True when a sample was saturated: the true peak is at least this (for `below`, at most). */
  readonly isBound: boolean;
}

export interface Indication extends Interval {
  readonly begins: Edge;
  readonly ends: Edge;
  readonly peak: Peak;
  /** Samples at the release level or beyond it. */
  readonly samples: number;
  /** How many runs of such samples were combined. */
  readonly runs: number;
  /** Length between its ends for which no sample speaks, mm. */
  readonly missingMm: number;
}

/** Whether the true indication may reach further than it says, since nothing was read (or counted) at one of its ends. */
export function mayContinue({ begins, ends }: Pick<Indication, 'begins' | 'ends'>): boolean {
  return begins !== 'signal' || ends !== 'signal';
}

/** A marked interval in which samples form no indication, and what was read there all the same. */
export interface ExcludedSamples extends Interval {
  readonly samples: number;
  readonly missingSamples: number;
  /** Samples that would have made an indication. */
  readonly samplesAtThreshold: number;
}
