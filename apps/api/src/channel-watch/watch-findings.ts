import {
  implausibleWindows, offSeamWindows, quietWindows, saturatedWindows, usualNoise, windowsOf, type SampleRun, type Window, type WindowFinding,
} from '#libs/channel-watch';
import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { CELLS_IN_BLOCK } from '#libs/signals';
import type { Channel } from '../channels/channel.entity.js';
import { grouped } from '../suppliers/grouped.js';
import type { WatchRule } from './channel-watch.dto.js';
import type { WatchedStretch } from './watched-stretches.service.js';
import type { WatchLimits } from './watch-limits.js';

/** A finding before its records are named. */
export interface Finding {
  readonly rule: WatchRule;
  readonly interval: Interval;
  readonly runId: string;
  readonly time: { readonly fromUs: number; readonly toUs: number } | null;
  readonly figure: number | null;
  readonly limit: number | null;
  readonly unit: string | null;
  readonly words: string;
}

/** What the samples of one run of a channel say, stretch by stretch. */
export function findingsOfRun(channel: Channel, stretches: readonly WatchedStretch[], limits: WatchLimits): Finding[] {
  const windows = new Map(stretches.map((stretch) => [stretch, windowsOf(stretch.cells, limits.windowMm)]));
  const usual = channel.zone === 'seam' ? usualNoise([...windows.values()].flat()) : null;
  return [...windows].flatMap(([stretch, own]) => [...byWindows(channel, stretch, own, usual, limits), ...byRuns(channel, stretch, limits)]);
}

/** What the noise of stretches leaves open. */
export interface UnjudgedNoise {
  /** Each run has windows enough to tell what is usual. */
  readonly isUsualKnown: boolean;
  /** Pipe in windows of which no cell has values enough. */
  readonly tooFew: IntervalSet;
}

export function unjudgedNoise(stretches: readonly WatchedStretch[], windowMm: number): UnjudgedNoise {
  const runs = [...grouped(stretches, ({ runId }) => runId).values()].map((own) => own.flatMap(({ cells }) => windowsOf(cells, windowMm)));
  const tooFew = runs.flat().filter(({ noise }) => noise === null).map(({ fromMm, toMm }) => interval(fromMm, toMm));
  return { isUsualKnown: runs.every((windows) => usualNoise(windows) !== null), tooFew: IntervalSet.from(tooFew) };
}

function byWindows({ unit, noiseFloorLeast }: Channel, stretch: WatchedStretch, windows: readonly Window[], usual: number | null, limits: WatchLimits): Finding[] {
  const made = (rule: WatchRule, ofUnit: string, factor: number, words: (figure: string, limit: string) => string) => (one: WindowFinding): Finding => {
    const [figure, limit] = [rounded(one.figure * factor), rounded(one.limit * factor)];
    return {
      rule, interval: { fromMm: one.fromMm, toMm: one.toMm }, runId: stretch.runId, time: stretch.timeOf(blockOf(one.fromCell), blockOf(one.toCell - 1)), figure, limit, unit: ofUnit,
      words: words(`${figure} ${ofUnit}`, `${limit} ${ofUnit}`),
    };
  };
  const quiet = noiseFloorLeast === null ? [] : quietWindows(windows, Number(noiseFloorLeast));
  const off = usual === null ? [] : offSeamWindows(windows, usual, limits.leastOfUsualNoise);
  return [
    ...quiet.map(made('noise-floor', unit, 1, (figure, limit) => `noise falls to ${figure}, below the ${limit} that the channel usually shows at least: it may not have seen the pipe`)),
    ...off.map(made('off-weld-line', unit, 1, (figure, limit) => `noise falls to ${figure}, below ${limit}, which is ${percent(limits.leastOfUsualNoise)} of what is usual in this run: the probe may have been beside the weld`)),
    ...implausibleWindows(windows, limits.mostImplausible).map(made('implausible-share', '%', 100, (figure, limit) => `up to ${figure} of the samples of a window are implausible, more than ${limit}`)),
    ...saturatedWindows(windows, limits.mostSaturated).map(made('saturated-share', '%', 100, (figure, limit) => `up to ${figure} of the samples of a window are saturated, more than ${limit}: what lies beyond is not known`)),
  ];
}

function byRuns({ stuckAfter, unit }: Channel, stretch: WatchedStretch, { lostFromMm }: WatchLimits): Finding[] {
  const time = ({ firstBlock, lastBlock }: SampleRun): Finding['time'] => stretch.timeOf(firstBlock, lastBlock);
  return [
    ...stretch.runs.missing.map((run) => ({ run, span: stretch.spanOf(run) })).filter(({ span: { fromMm, toMm } }) => toMm - fromMm >= lostFromMm).map(({ run, span }): Finding => ({
      rule: 'lost-coupling', interval: span, runId: stretch.runId, time: time(run), figure: span.toMm - span.fromMm, limit: lostFromMm, unit: 'mm',
      words: `${run.samples} samples in a row are missing over ${span.toMm - span.fromMm} mm`,
    })),
    ...stretch.runs.identical.map((run): Finding => ({
      rule: 'identical-values', interval: stretch.spanOf(run), runId: stretch.runId, time: time(run), figure: run.samples, limit: stuckAfter, unit: 'samples',
      words: `${run.samples} readings in a row are ${rounded(run.value ?? 0)} ${unit}, and ${stuckAfter ?? 0} already look stuck`,
    })),
  ];
}

const blockOf = (cellNo: number): number => Math.floor(cellNo / CELLS_IN_BLOCK);

/** Figures for people: six digits. */
const rounded = (value: number): number => Number(value.toPrecision(6));
export const percent = (share: number): string => `${rounded(share * 100)} %`;
