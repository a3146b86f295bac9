import { samplesOf } from '#libs/signals';
import { noiseOf, type WatchedCell } from './cell.js';

/** Consecutive cells that begin in one stretch of a grid along the pipe, and what they come to together. */
export interface Window {
  /** Hull of its cells, whole mm. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly fromCell: number;
  readonly toCell: number;
  readonly samples: number;
  /**
   * The lower median of the noise of its cells, in the unit of the channel: half of them quiet make it quiet, and an indication in
   * one of them does not hide that. Null where no cell has enough values.
   */
  readonly noise: number | null;
  readonly implausible: number;
  readonly saturated: number;
}

/**
 * The cells of one go along the pipe in windows: cells that begin within the same multiple of `windowMm`. A cell is never divided,
 * so that where cells are longer than the window each is one of its own. Throws RangeError when `windowMm` is not above 0.
 */
export function windowsOf(cells: Iterable<WatchedCell>, windowMm: number): Window[] {
  if (!(windowMm > 0)) throw new RangeError(`a window is longer than 0 mm, not ${windowMm}`);
  const windows: Window[] = [];
  let open: WatchedCell[] = [];
  let openNo = NaN;
  for (const cell of cells) {
    const no = Math.floor(cell.fromMm / windowMm);
    if (no !== openNo && open.length > 0) {
      windows.push(windowOf(open));
      open = [];
    }
    openNo = no;
    open.push(cell);
  }
  if (open.length > 0) windows.push(windowOf(open));
  return windows;
}

function windowOf(cells: readonly WatchedCell[]): Window {
  let [fromMm, toMm, samples, implausible, saturated] = [Infinity, -Infinity, 0, 0, 0];
  for (const { fromMm: from, toMm: to, summary } of cells) {
    fromMm = Math.min(fromMm, from);
    toMm = Math.max(toMm, to);
    samples += samplesOf(summary);
    implausible += summary.counts.implausible;
    saturated += summary.counts.saturatedHigh + summary.counts.saturatedLow;
  }
  const noise = lowerMedian(cells.map(({ summary }) => noiseOf(summary)).filter((one) => one !== null));
  return { fromMm, toMm, fromCell: cells[0]?.cellNo ?? 0, toCell: (cells.at(-1)?.cellNo ?? 0) + 1, samples, noise, implausible, saturated };
}

/** The middle one, of an even number the lower of the two; null of none. */
export function lowerMedian(values: readonly number[]): number | null {
  return values.toSorted((a, b) => a - b)[Math.floor((values.length - 1) / 2)] ?? null;
}
