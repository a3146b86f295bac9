import { interval } from '#libs/intervals';
import type { Edge, Indication } from './indication.js';

/** An indication while it grows; values are turned so that greater is worse. */
export interface Running {
  fromMm: number;
  toMm: number;
  begins: Edge;
  ends: Edge;
  reachedThreshold: boolean;
  peak: number;
  peakMm: number;
  saturated: boolean;
  samples: number;
  runs: number;
  /** Missing length of the whole signal up to its first sample and up to its last one. */
  missingBeforeMm: number;
  missingThroughMm: number;
}

export function begin(fromMm: number, begins: Edge, missingBeforeMm: number): Running {
  return {
    fromMm, toMm: fromMm, begins, ends: 'signal', reachedThreshold: false, peak: Number.NEGATIVE_INFINITY, peakMm: fromMm, saturated: false,
    samples: 0, runs: 1, missingBeforeMm, missingThroughMm: missingBeforeMm,
  };
}

/** Makes `later` part of `earlier`; it neither begins nor ends before it. */
export function join(earlier: Running, later: Running): void {
  earlier.toMm = later.toMm;
  earlier.ends = later.ends;
  if (later.peak > earlier.peak) {
    earlier.peak = later.peak;
    earlier.peakMm = later.peakMm;
  }
  if (later.saturated) earlier.saturated = true;
  earlier.samples += later.samples;
  earlier.runs += later.runs;
  earlier.missingThroughMm = later.missingThroughMm;
}

/** As it is answered; `sign` turns its peak back into the channel's sense. */
export function indicationOf(running: Running, sign: 1 | -1): Indication {
  const { begins, ends, samples, runs, saturated, peak, peakMm } = running;
  return {
    ...interval(running.fromMm, running.toMm), begins, ends, peak: { value: sign * peak, atMm: peakMm, isBound: saturated }, samples, runs,
    missingMm: running.missingThroughMm - running.missingBeforeMm,
  };
}
