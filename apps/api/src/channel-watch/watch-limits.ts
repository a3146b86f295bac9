/** Where the rules of the watch draw their lines. All of them are our own choice: common practice, no published source. */
export interface WatchLimits {
  /** Windows of the pipe in which noise and shares are judged, mm. */
  readonly windowMm: number;
  /** Missing samples over so much pipe look like lost coupling, mm. */
  readonly lostFromMm: number;
  /** Most of a window that may be implausible or saturated, 0 to 1. */
  readonly mostImplausible: number;
  readonly mostSaturated: number;
  /** A channel over the seam with less than this share of its usual noise may be beside it, 0 to 1. */
  readonly leastOfUsualNoise: number;
}

export const USUAL_LIMITS: WatchLimits = { windowMm: 1_000, lostFromMm: 10, mostImplausible: 0.01, mostSaturated: 0.01, leastOfUsualNoise: 0.5 };

/** A channel of which more is to be told tells of nothing by it, and would fill the memory. */
export const MOST_RUNS = 20_000;

/** Above it a single question would hold too many cells in memory: 41 million samples. */
export const MOST_BLOCKS = 10_000;
