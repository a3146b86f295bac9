import {
  implausibleWindows, offSeamWindows, quietWindows, saturatedWindows, usualNoise, windowsOf, type SampleRun, type Window, type WindowFinding,
} from '#libs/channel-watch';
import type { Interval } from '#libs/intervals';
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

/** Whether so many windows tell what noise is usual for each run. */
export const isUsualKnown = (stretches: readonly WatchedStretch[], windowMm: number): boolean =>
  [...grouped(stretches, ({ runId }) => runId).values()].every((own) => usualNoise(own.flatMap(({ cells }) => windowsOf(cells, windowMm))) !== null);

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
    ...stretch.runs.missing.map((run) => ({ run, interval: stretch.spanOf(run) })).filter(({ interval: { fromMm, toMm } }) => toMm - fromMm >= lostFromMm).map(({ run, interval }): Finding => ({
      rule: 'lost-coupling', interval, runId: stretch.runId, time: time(run), figure: interval.toMm - interval.fromMm, limit: lostFromMm, unit: 'mm',
      words: `${run.samples} samples in a row are missing over ${interval.toMm - interval.fromMm} mm`,
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
