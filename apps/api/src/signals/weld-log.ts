import { footageAtReading } from '#libs/length';
import type { LineKnowledge } from '../line/line-knowledge.js';

/** Footage at the weld point at instants, µs since 1970 UTC, in order of time; one a time at most. */
export interface WeldLog {
  readonly timesUs: readonly number[];
  readonly footagesMm: readonly number[];
}

/** What the readings of a counter say of the weld point; those outside every period of it say nothing. In order of time. */
export function weldLogOf(line: LineKnowledge, counter: string, readings: readonly { readonly atUs: number; readonly reading: string }[]): WeldLog {
  const timesUs: number[] = [];
  const footagesMm: number[] = [];
  for (const { atUs, reading } of readings) {
    const period = line.periodAt(counter, atUs);
    if (period === null || atUs === timesUs.at(-1)) continue;
    timesUs.push(atUs);
    footagesMm.push(footageAtReading(period, Number(reading)));
  }
  return { timesUs, footagesMm };
}

/** A stretch of a log in which the pipe went one way, or stood. */
export interface LogStroke extends WeldLog {
  readonly falls: boolean;
}

/**
 * The log from `fromUs` to `toUs` as strokes one way, cut also at `cutsUs`; interpolated at both ends and at the cuts. Where
 * the pipe stood it belongs to the stroke before, or to the first. What lies outside the log is left out.
 */
export function strokesOf(log: WeldLog, fromUs: number, toUs: number, cutsUs: readonly number[]): LogStroke[] {
  const times = instantsOf(log, fromUs, toUs, cutsUs);
  const points = times.map((atUs) => footageAtUs(log, atUs));
  const strokes: LogStroke[] = [];
  let from = 0;
  let way = 0;
  for (let index = 1; index < times.length; index += 1) {
    const step = Math.sign((points[index] as number) - (points[index - 1] as number));
    const turns = way !== 0 && step !== 0 && step !== way;
    if (turns || (cutsUs.includes(times[index - 1] as number) && index - 1 > from)) {
      strokes.push(cut(times, points, from, index - 1, way));
      from = index - 1;
      way = 0;
    }
    if (step !== 0) way = step;
  }
  if (times.length > 1) strokes.push(cut(times, points, from, times.length - 1, way));
  return strokes;
}

const cut = (times: readonly number[], points: readonly number[], from: number, to: number, way: number): LogStroke =>
  ({ timesUs: times.slice(from, to + 1), footagesMm: points.slice(from, to + 1), falls: way < 0 });

function instantsOf({ timesUs }: WeldLog, fromUs: number, toUs: number, cutsUs: readonly number[]): number[] {
  const [first, last] = [timesUs[0], timesUs.at(-1)];
  if (first === undefined || last === undefined) return [];
  const [low, high] = [Math.max(fromUs, first), Math.min(toUs, last)];
  if (low > high) return [];
  const inside = [...timesUs, ...cutsUs].filter((atUs) => low < atUs && atUs < high);
  return [...new Set([low, ...inside, high])].sort((a, b) => a - b);
}

/** Interpolated between readings; there is one at or before, and one at or after. */
export function footageAtUs({ timesUs, footagesMm }: WeldLog, atUs: number): number {
  let [low, high] = [0, timesUs.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((timesUs[middle] as number) <= atUs) low = middle;
    else high = middle - 1;
  }
  const [t0, f0] = [timesUs[low] as number, footagesMm[low] as number];
  const [t1, f1] = [timesUs[low + 1], footagesMm[low + 1]];
  if (t1 === undefined || f1 === undefined || atUs <= t0) return f0;
  return f0 + ((f1 - f0) * (atUs - t0)) / (t1 - t0);
}

/** When a stroke first reaches a footage; before its start or after its end, ∓infinity. */
export function timeOfFootage({ timesUs, footagesMm, falls }: LogStroke, footageMm: number): number {
  const way = falls ? -1 : 1;
  const reaches = (index: number): boolean => way * ((footagesMm[index] as number) - footageMm) >= 0;
  let [low, high] = [0, timesUs.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (reaches(middle)) high = middle;
    else low = middle + 1;
  }
  if (low === timesUs.length) return Infinity;
  const [t1, f1] = [timesUs[low] as number, footagesMm[low] as number];
  if (low === 0) return f1 === footageMm ? t1 : -Infinity;
  const [t0, f0] = [timesUs[low - 1] as number, footagesMm[low - 1] as number];
  return t0 + ((t1 - t0) * (footageMm - f0)) / (f1 - f0);
}
