import { lowerMedian, type Window } from './windows.js';

/** Windows one after another that a rule names. */
export interface WindowFinding {
  readonly fromMm: number;
  readonly toMm: number;
  readonly fromCell: number;
  readonly toCell: number;
  /** The worst of them. */
  readonly figure: number;
  readonly limit: number;
}

/** With fewer windows nobody knows what is usual for a channel. Our own choice. */
export const USUAL_OF_AT_LEAST = 8;

/**
 * Windows whose noise is below the least that the channel usually shows, in its unit: what it reads then is hardly the pipe. Common
 * practice, no published source.
 */
export const quietWindows = (windows: readonly Window[], noiseFloorLeast: number): WindowFinding[] =>
  runsOf(windows, ({ noise }) => (noise !== null && noise < noiseFloorLeast ? noise : null), noiseFloorLeast, Math.min);

/** Windows of which a greater share of the samples (0 to 1) is implausible. Common practice, no published source. */
export const implausibleWindows = (windows: readonly Window[], mostShare: number): WindowFinding[] =>
  runsOf(windows, ({ implausible, samples }) => above(implausible / samples, mostShare), mostShare, Math.max);

/** Windows of which a greater share of the samples (0 to 1) is saturated. Common practice, no published source. */
export const saturatedWindows = (windows: readonly Window[], mostShare: number): WindowFinding[] =>
  runsOf(windows, ({ saturated, samples }) => above(saturated / samples, mostShare), mostShare, Math.max);

/**
 * What noise is usual, in the unit of the channel: the lower median of that of these windows, best all of one run. Null where fewer
 * than eight of them have one.
 */
export function usualNoise(windows: readonly Window[]): number | null {
  const noises = windows.map(({ noise }) => noise).filter((one) => one !== null);
  return noises.length < USUAL_OF_AT_LEAST ? null : lowerMedian(noises);
}

/**
 * Windows of a channel over the seam that are much quieter than it usually is: less than `leastShare` (0 to 1) of `usualNoise`. It
 * sees a probe that left a weld that is noisier than the body, for a lesser part of a run. It does not see a probe that was beside
 * the weld most of the time, or a weld as quiet as the body. Common practice, no published source.
 */
export function offSeamWindows(windows: readonly Window[], usual: number, leastShare: number): WindowFinding[] {
  const limit = usual * leastShare;
  return runsOf(windows, ({ noise }) => (noise !== null && noise < limit ? noise : null), limit, Math.min);
}

const above = (share: number, most: number): number | null => (share > most ? share : null);

/** Joins windows that follow each other and have a figure. */
function runsOf(windows: readonly Window[], figureOf: (window: Window) => number | null, limit: number, worse: (a: number, b: number) => number): WindowFinding[] {
  const found: WindowFinding[] = [];
  let open: WindowFinding | null = null;
  for (const window of windows) {
    const figure = figureOf(window);
    if (figure === null) {
      if (open !== null) found.push(open);
      open = null;
      continue;
    }
    const { fromMm, toMm, fromCell, toCell } = window;
    open = open === null
      ? { fromMm, toMm, fromCell, toCell, figure, limit }
      : { fromMm: Math.min(open.fromMm, fromMm), toMm: Math.max(open.toMm, toMm), fromCell: open.fromCell, toCell, figure: worse(open.figure, figure), limit };
  }
  if (open !== null) found.push(open);
  return found;
}
